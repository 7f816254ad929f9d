printf "%s" "{\"water\":{\"depth_m\":1.5}} x" | baitfall fall -

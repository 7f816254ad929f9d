printf "%s" "{\"bait\":\"hard-4\",\"water\":{\"depth_m\":1.5" | baitfall fall -

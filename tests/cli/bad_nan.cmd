printf "%s" "{\"bait\":\"hard-4\",\"water\":{\"depth_m\":NaN}}" | baitfall fall -

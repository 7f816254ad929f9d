printf "{\"bait\":\"hard-4\\377\",\"water\":{\"depth_m\":1.5}}" | baitfall fall -

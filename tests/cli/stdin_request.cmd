printf "%s" "{\"bait\":\"hard-4\",\"water\":{\"depth\":\"1.5m\",\"temp\":\"12C\"}}" | baitfall fall -

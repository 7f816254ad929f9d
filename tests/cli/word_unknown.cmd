baitfall fall breadpunch 1.5m

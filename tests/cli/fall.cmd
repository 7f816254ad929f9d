baitfall fall hard-4 1.5m 12C

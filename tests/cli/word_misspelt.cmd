baitfall fall hard4 1.5m 12C

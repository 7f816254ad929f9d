baitfall fall hard-4 -1m

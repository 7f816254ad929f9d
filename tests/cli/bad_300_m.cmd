baitfall fall hard-4 300m

baitfall fall hard-4 1.5m --set water.depth=2m

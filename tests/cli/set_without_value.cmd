baitfall fall hard-4 --set water.depth

baitfall fall hard-4 1.5m --set water.dept=2m

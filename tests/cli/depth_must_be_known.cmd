baitfall fall hard-4 --set "water.depth=don't know" 12C

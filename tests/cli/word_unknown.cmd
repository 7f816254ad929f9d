baitfall fall gravel-train 1.5m

baitfall fall hard-4

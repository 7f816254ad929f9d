baitfall pot --counted 400 hard-4

baitfall pot micros-2 --counted 400 hard-4

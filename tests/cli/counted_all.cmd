baitfall pot micros-2 --counted 400 | head -4

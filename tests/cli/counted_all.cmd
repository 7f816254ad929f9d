baitfall pot micros-2 --counted 400 | sed -n 5,9p

head -c 1100000 /dev/zero | tr "\\0" " " | baitfall fall -

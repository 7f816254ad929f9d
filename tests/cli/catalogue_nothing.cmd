baitfall catalogue xyzzy

baitfall xyzzy

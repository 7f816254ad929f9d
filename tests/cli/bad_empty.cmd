baitfall fall - </dev/null

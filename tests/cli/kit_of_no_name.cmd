baitfall measure drop hard-4 --height 30cm --times 2.2 --kit - </dev/null; baitfall fall hard-4 1m --kit ''; baitfall fall hard-4 1m --kit .

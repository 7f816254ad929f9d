printf "%s" "{\"seed\":1,\"seed\":2}" | baitfall fall -

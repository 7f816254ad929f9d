baitfall catalogue >/dev/full

baitfall log add

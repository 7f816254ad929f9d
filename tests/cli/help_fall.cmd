baitfall help fall

baitfall help sprad

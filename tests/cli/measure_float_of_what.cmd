baitfall measure float --took 0.37g; baitfall measure pull --rest 30cm --loads 70g --lengths 60cm; baitfall measure float middle --took 0.37m

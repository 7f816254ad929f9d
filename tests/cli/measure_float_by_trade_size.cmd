baitfall measure float middle --took 0.37g --date 2026-04-11 --kit kit.json

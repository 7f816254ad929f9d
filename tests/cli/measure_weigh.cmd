baitfall measure weigh middle "No 8" --shots 20 --together 1.26g --date 2026-04-11 --kit kit.json; baitfall measure weigh middle "No 8" --shots 2 --together 1.26g --date 2026-04-11 --kit kit.json

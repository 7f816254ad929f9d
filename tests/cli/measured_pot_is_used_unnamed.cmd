baitfall measure count micros-2 --count 400,390 --date 2026-04-11
baitfall pot hard-4 | sed -n 1,4p
baitfall spread hard-4 1m | sed -n 1,8p

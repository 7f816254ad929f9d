baitfall measure count hard-4 medium --count 50,52 --water 8g --date 2026-04-11 | sed -n 1,2p
baitfall pot hard-4

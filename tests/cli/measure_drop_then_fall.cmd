baitfall measure drop hard-4 --height 30cm --vessel 12cm --times 3.1,3.3,2.9,3.4,3.2,3.0 12C --date 2026-04-11 >/dev/null && baitfall fall hard-4 1.5m 12C

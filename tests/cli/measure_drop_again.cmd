for day in 2026-04-11 2026-04-12; do baitfall measure drop hard-4 --height 30cm --vessel 12cm --times 2.1,2.3,2.2,2.2,2.0,2.4 12C --date $day; done

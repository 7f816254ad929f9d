baitfall measure drop hard-4 --height 30cm --vessel 12cm --times 3.1,3.3,2.9,3.4,3.2,3.0 12C --date 2026-04-11 --kit kit.json >/dev/null
baitfall measure drop hard-4 --height 30cm --vessel 12cm --times 3.1,3.3,2.9,3.4,3.2,3.0 12C --date 2026-05-02 --kit kit.json >/dev/null
grep -o "\"until\":\"[^\"]*\",\"by\":\"[a-z]*\"" kit.json

baitfall measure drop hard-4 --height 30cm --times 3.1,3.3,3.2 12C --date 2026-04-11 --kit kit.json >/dev/null; cp kit.json before
baitfall measure drop hard-4 --height 30cm --times 3.1,-3,3.2 12C --date 2026-04-12 --kit kit.json
code=$?; cmp kit.json before && rm before; exit $code

line='{ "spot": "s", "bait": "hard-4", "count": 5 }'
plan() { printf '{ "spots": [{ "id": "s", "depth": "1 m" }], "feed": [%s%s] }' "$line" "$(printf ", $line%.0s" $(seq "$1"))"; }
plan 32 | baitfall plan - --draws 16
plan 31 | baitfall plan - --draws 16 | grep -c clump

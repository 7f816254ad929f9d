baitfall log import "$SOURCE/tests/data/logbook/day.journal.jsonl" >/dev/null
id=$(sed -n 20p "$SOURCE/tests/data/logbook/day.journal.jsonl" | sed -E 's/.*"id":"([0-9a-f]{32}).*/\1/')
baitfall log show "${id:0:7}"
baitfall log show "$id" --json
baitfall log show 00000000
echo "exit $?"
baitfall log show xyz
echo "exit $?"
baitfall log show ""

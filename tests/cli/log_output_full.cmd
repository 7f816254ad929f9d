baitfall log import "$SOURCE/tests/data/logbook/day.journal.jsonl" >/dev/null
baitfall log export >/dev/full

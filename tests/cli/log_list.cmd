baitfall log import "$SOURCE/tests/data/logbook/day.journal.jsonl"
baitfall log list | head -12
baitfall log list --all --json | cut -c1-400
baitfall log sessions
baitfall log sessions --json

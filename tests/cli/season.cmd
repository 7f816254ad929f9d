baitfall season "$SOURCE/tests/data/journal/day.journal.jsonl"

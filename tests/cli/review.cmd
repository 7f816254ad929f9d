# an invented day (tests/invented, seed 3), looked back on
baitfall review "$SOURCE/tests/data/journal/day.journal.jsonl"

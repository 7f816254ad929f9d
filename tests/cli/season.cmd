baitfall season "$SOURCE/tests/data/journal/day.journal.jsonl"
# nothing fed, nothing learned: it says so
head -2 "$SOURCE/tests/data/journal/day.journal.jsonl" > unfed.jsonl
baitfall season unfed.jsonl --learned | grep -A1 'learned nothing'
rm unfed.jsonl

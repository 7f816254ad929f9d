day="$SOURCE/tests/data/journal/day.journal.jsonl"
baitfall review - --session eefefad0 <"$day" | head -4
baitfall review - --session ffff <"$day"
echo "exit $?"
baitfall review "$day" --session "../x"
echo "exit $?"
baitfall review nosuchfile
echo "exit $?"
baitfall review "$day" "$day"

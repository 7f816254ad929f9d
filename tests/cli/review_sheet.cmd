day="$SOURCE/tests/data/journal/day.journal.jsonl"
baitfall review "$day" --pdf day.pdf >/dev/null && head -c 5 day.pdf && echo
baitfall review "$day" --svg waits.svg --view waits --look dusk >/dev/null && grep -c '<svg' waits.svg
baitfall review "$day" --svg waits.svg --view waits
echo "exit $?"
baitfall review "$day" --svg other.svg --view above
echo "exit $?"
baitfall review "$day" --view waits

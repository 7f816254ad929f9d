day=$SOURCE/tests/data/logbook/day.journal.jsonl
baitfall log import "$day" >/dev/null
baitfall log export | cmp - "$day" && echo "the same lines"
baitfall log export out.jsonl
baitfall log export out.jsonl
echo "exit $?"
baitfall log export out.jsonl --force --json
baitfall log export --csv out.csv
head -2 out.csv | cut -c1-160
baitfall log import out.csv --db other.db
baitfall log export --db other.db | cmp - "$day" && echo "the same lines"
baitfall log export --session ffff
echo "exit $?"
# --force replaces a file of words, but no journal
baitfall log export other.db --force
echo "exit $?"
baitfall review --svg other.db --force >/dev/null
echo "exit $?"
baitfall log check --db other.db

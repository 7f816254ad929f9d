# plain
# the bed account as JSON: which members, and a drawing beside it
day="$SOURCE/examples/withy-pool/spring-day.journal.jsonl"
baitfall bed "$day" --at 12:10 --spot long --json --svg bed.svg --look sun > answer.json
grep -o '"[a-z_]*":' answer.json | sort -u | tr '\n' ' '
echo
grep -o '"sentence":"[^"]*"' answer.json
grep -c '<svg' bed.svg
baitfall bed "$day" --at 12:10 --svg bed.svg
echo "exit $?"
baitfall bed "$day" --at 12:10 --svg fish.svg --view fish | head -1
baitfall bed "$day" --svg x.svg --view side

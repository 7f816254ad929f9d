: >empty.journal.jsonl
baitfall review empty.journal.jsonl
echo "exit $?"
baitfall season empty.journal.jsonl
echo "exit $?"
baitfall trial empty.journal.jsonl
echo "exit $?"
baitfall review

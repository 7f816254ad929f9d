# soft two and hard four are names of the angler's own: the kit tells which is larger
soft='{"id":"soft two","form":"sphere","diameter":"2 mm","density":"1150 kg/m3"}'
hard='{"id":"hard four","form":"sphere","diameter":"4 mm","density":"1200 kg/m3"}'
echo "{\"baits\":[$soft,$hard]}" >kit.json
baitfall review "$SOURCE/tests/data/journal/day.journal.jsonl" --kit kit.json | sed -n 6p
baitfall review "$SOURCE/tests/data/journal/day.journal.jsonl" --kit none.json
echo "exit $?"

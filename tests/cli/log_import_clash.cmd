head -5 "$SOURCE/tests/data/logbook/day.journal.jsonl" >day
baitfall log import day
sed -n 5p day | sed 's/"pm_s":5/"pm_s":6/' | baitfall log import -
echo "exit $?"
baitfall log check

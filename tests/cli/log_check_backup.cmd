baitfall log import "$SOURCE/tests/data/logbook/day.journal.jsonl" >/dev/null
baitfall log check
baitfall log check --json
baitfall log backup copy.db
baitfall log backup copy.db
echo "exit $?"
baitfall log check --db copy.db
db=$HOME/.local/share/baitfall/journal.db
printf 'xxxx' | dd of="$db" bs=1 seek=$(($(grep -abo '"outcome":"missed"' "$db" | head -1 | cut -d: -f1) + 11)) conv=notrunc status=none
baitfall log check
echo "exit $?"

# plain
# a real session from eleven on: your turn; the file stands alone, and nothing of it enters a journal
day="$SOURCE/examples/withy-pool/spring-day.journal.jsonl"
printf 'wait 5\nquit\n' | baitfall rehearse --from "$day" --at 11:00 --seed 3 --out turn.json > said
sed -n '1p;3,6p' said | cut -c1-100
printf 'quit\n' | env -u SOURCE baitfall rehearse turn.json | tail -2
baitfall rehearse turn.json --json < /dev/null | grep -o '{\\"v\\":1[^}]*\\"dev\\":\\"00000000\\"[^}]*}}' | tail -1 | sed 's/\\"/"/g' > made.jsonl
baitfall log import made.jsonl --db try.db
echo "exit $?"
baitfall log import turn.json --db try.db
echo "exit $?"
baitfall review turn.json
echo "exit $?"
baitfall rehearse --from "$day"
echo "exit $?"
baitfall rehearse --at 11:00
echo "exit $?"
baitfall rehearse --from "$day" --at 08:00 < /dev/null
echo "exit $?"
head -6 "$day" > unfed.jsonl
baitfall rehearse --from unfed.jsonl --at 09:01 < /dev/null
echo "exit $?"
rm -f unfed.jsonl turn.json said made.jsonl try.db

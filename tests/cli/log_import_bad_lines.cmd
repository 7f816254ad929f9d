{
    head -2 "$SOURCE/tests/data/logbook/day.journal.jsonl"
    echo "=cmd|' /C calc'!A0"
    echo '<script>alert(1)</script>'
    printf '\xff\xfe\x80\n'
    printf '{"v":1,"id":"\\u202e"}\n'
    printf '\033[2J{}\n'
    head -c 100 "$SOURCE/tests/data/logbook/day.journal.jsonl" && echo
    tail -2 "$SOURCE/tests/data/logbook/day.journal.jsonl"
} >mixed
baitfall log import mixed
echo "exit $?"
baitfall log import - --json <mixed 2>/dev/null
echo "exit $?"
baitfall log import nowhere
echo "exit $?"
baitfall log check

# files as they come: a byte order mark, CR LF, lines that are no entries, no lines at all, no file
day="$SOURCE/examples/withy-pool/spring-day.journal.jsonl"
{ printf '\xef\xbb\xbf'; sed 's/$/\r/' "$day"; } > marked.jsonl
baitfall review marked.jsonl | head -3
{ echo hello; head -60 "$day"; echo '{"v":1}'; } | baitfall review - | head -3
: > empty
baitfall review empty
echo "exit $?"
baitfall season empty
baitfall trial empty
baitfall review .
echo "exit $?"
baitfall review nosuch.jsonl
echo "exit $?"
baitfall review - <&-
echo "exit $?"
baitfall review "$day" --session last | head -1
baitfall review "$day" --session ""
baitfall trial plan --set a=x --set b=x
echo "exit $?"

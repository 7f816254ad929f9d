# bad instants, spots, sessions, files, plans; a journal without a put-in; what can be asked is said
day="$SOURCE/examples/withy-pool/spring-day.journal.jsonl"
try() { baitfall bed "$@" | head -3; echo "exit ${PIPESTATUS[0]}"; }
try "$day" --at noon
try "$day" --at 25:00
try "$day" --at 1999-01-01T00:00:00Z
try "$day" --at 2999-01-01T00:00:00Z
try "$day" --spot margin
try "$day" --spot ""
try "$day" --session ffff
try "$day" --session last
try "$day" --seed -1
cp "$day" lines.jsonl
try "$day" --plan lines.jsonl
try "$day" --plan nosuch.json
echo '{"spots":[{"id":"long","depth":"40 m"}]}' > deep.json
try "$day" --plan deep.json
try "$day" --kit nosuch.json
: > empty
try empty
try nosuch.jsonl
try
head -6 "$day" > unfed.jsonl
try unfed.jsonl
{ echo hello; head -12 "$day"; } | baitfall bed - | sed -n 3,5p
{ head -5 "$day"; grep '"kind":"feed"' "$day" | head -1 | sed 's/"fill_frac".*/"count":1000000,"how":"clump"}}/; p; s/0603474a/0603474b/; s/"id":"./"id":"7/'; } > loads.jsonl
for i in 1 2; do grep '"kind":"feed"' loads.jsonl | sed "s/\"id\":\".../\"id\":\"ab$i/"; done >> loads.jsonl
try loads.jsonl --svg loads.svg
mkfifo pipe
try unfed.jsonl --svg pipe --force
[ -p pipe ] && echo "the pipe is there"
rm pipe

# objectives, spots and instants that are none; a journal without a session or a put-in; names that would steer a terminal
day="$SOURCE/examples/withy-pool/spring-day.journal.jsonl"
try() { baitfall next "$@" | head -4; echo "exit ${PIPESTATUS[0]}"; }
try "$day" --objective glory
try "$day" --at 12:10 --objective target
try "$day" --at noon
try "$day" --spot margin
try "$day" --view fish
: > empty
try empty
try nosuch.jsonl
head -6 "$day" > unfed.jsonl
try unfed.jsonl --at 09:01

# plain
# lines as they come: each that asks is answered as of its own instant; a file is followed until its session is closed
day="$SOURCE/examples/withy-pool/spring-day.journal.jsonl"
ask() { sed -n "$1p" "$day" | sed 's/"id":"./"id":"a/; s/"kind":"[a-z]*"/"kind":"ask"/; s/"body":.*/"body":{}}/'; }
{ head -40 "$day"; ask 40; ask 40; echo hello; ask 41; } > asked.jsonl
baitfall next --follow --json --objective number - < asked.jsonl > answers.json
wc -l < answers.json
grep -o -E '"(action|either|kept|objective|hour|gain|p_best|odds|reasons|others|changes_if|rests_on|notes)":' answers.json | sort -u | tr '\n' ' '
echo
grep -o '"grounds":"book","sessions":[0-9]*' answers.json
grep -o '"at_text":"[^"]*"' answers.json
baitfall next --follow "$day" | tail -1
baitfall next --follow asked.jsonl > followed 2> left_out &
until [ -s followed ]; do sleep 0.2; done
kill -TERM $!
wait $!
echo "exit $?"
head -1 followed
baitfall next --follow asked.jsonl --at 12:10
echo "exit $?"

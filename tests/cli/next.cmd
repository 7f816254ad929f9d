# advice on an invented day, of the book: what is known first, then what to do under its headings, in words without a chance; none
# where the session is closed
day="$SOURCE/examples/withy-pool/spring-day.journal.jsonl"
baitfall next "$day" --at 12:10 --plan "$SOURCE/examples/withy-pool/peg-14.plan.json" > said
sed -n '1,9p' said
grep -E '^(Because|Why not|A model|0 earlier)' said
sed -n '/^Because/,/^$/p' said | grep -c '^  - '
grep -c -E ' in 10| fish \(| kg \(' said
grep -c 'better\|even\|worse' said | sed 's/[1-9][0-9]*/some/'
baitfall next "$day" | sed -n '1,3p;$p'
# a cold day without a bite: hardly anything to gain
sed 's/"temp_c":12.2/"temp_c":6/; s/"outcome":"[a-z]*"/"outcome":"nothing"/; s/,"held".*}}/}}/' "$day" > blank.jsonl
baitfall next blank.jsonl --at 09:58 --plan "$SOURCE/examples/withy-pool/peg-14.plan.json" | grep '^  gain'
rm blank.jsonl

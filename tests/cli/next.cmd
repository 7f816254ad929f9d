# advice on an invented day, of the book, in words; none where the session is closed
day="$SOURCE/examples/withy-pool/spring-day.journal.jsonl"
baitfall next "$day" --at 12:10 --plan "$SOURCE/examples/withy-pool/peg-14.plan.json"
baitfall next "$day" | sed -n '1,3p;$p'

# the bed account of an invented day: by its own numbers, then with the plan's, and at other times
day="$SOURCE/examples/withy-pool/spring-day.journal.jsonl"
baitfall bed "$day" --at 12:10 | sed -n '1,8p'
baitfall bed "$day" --at 12:10 --plan "$SOURCE/examples/withy-pool/peg-14.plan.json"
baitfall bed "$day" --at 09:00:30 | head -8
baitfall bed "$day" | head -1
baitfall bed "$day" --at 2026-03-23T11:00:00+01:00 | head -1
baitfall bed "$day" --at 23:30 | grep closed

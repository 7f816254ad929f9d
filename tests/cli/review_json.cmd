baitfall review "$SOURCE/tests/data/journal/day.journal.jsonl" --json | python3 -c '
import json, sys
answer = json.load(sys.stdin)
print(sorted(answer))
print(answer["waits"]["median_s"]["text"], "|", answer["changes"]["waits_ratio"]["text"])
print([n["code"] for n in answer["notes"]])'

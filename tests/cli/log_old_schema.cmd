cp "$SOURCE/tests/data/logbook/v1.db" old.db
baitfall log sessions --db old.db
cmp old.db.schema-1.journal.jsonl "$SOURCE/tests/data/logbook/day.journal.jsonl" && echo "all lines are beside it"
baitfall log sessions --db old.db

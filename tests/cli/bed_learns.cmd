# plain
# three invented mornings: the first two are learned from, worked out once, and kept; a damaged or deleted file is made again
day="$SOURCE/examples/withy-pool/spring-day.journal.jsonl"
on() { head -"$3" "$day" | sed "s/2026-03-23/$1/g; s/\"\(id\|session\|of\)\":\"./\"\1\":\"$2/g"; }
{ on 2026-03-09 e 24; on 2026-03-16 f 28; head -26 "$day"; } > three.jsonl
kept="$HOME/.cache/baitfall/sessions"
baitfall bed three.jsonl > one
grep -A1 'Rests on' one
wc -l < "$kept"
cp "$kept" first
baitfall bed three.jsonl | cmp - one && echo same
sed -i 's/2026/2027/' "$kept"
baitfall bed three.jsonl | cmp - one && cmp "$kept" first && echo made again
baitfall bed three.jsonl --book | grep -A1 'Rests on'
baitfall bed three.jsonl --session e7d1 | grep -A1 'Rests on'
baitfall season three.jsonl --learned > season
grep -A1 -e 'From 3 sessions' -e 'Foretelling' season
baitfall season three.jsonl --learned | cmp - season && echo same
wc -l < "$kept"
rm -r "$HOME/.cache"; mkdir "$HOME/.cache"; echo x > "$HOME/.cache/baitfall"
baitfall bed three.jsonl | cmp - one && echo same

# a rehearsal fished from a pipe: what shows, the same day again, kept in a file and gone on with; the hidden truth at the end
printf 'feed hard-4 15\nlower\nuntil bite\nlower\nwait 2\n' | baitfall rehearse --seed 2 --out day.rehearsal.json
echo "exit $?"
printf 'feed hard-4 15\nlower\nuntil bite\nlower\nwait 2\n' | baitfall rehearse --seed 2 --out again.rehearsal.json > /dev/null
cmp day.rehearsal.json again.rehearsal.json && echo "the same day"
head -c 44 day.rehearsal.json
echo
echo end | baitfall rehearse day.rehearsal.json > end
sed -n '/^The hidden truth/,/^$/p' end | head -3
grep -E '^(What your decisions|A cost is)' end | cut -c1-40
grep -c -E '^  [0-9:]{5}  (Feed|Hold|Move)' end
# the file is the request: any program may ask it
baitfall rehearse day.rehearsal.json --json < /dev/null | grep -o -E '"(command|simulated|seed|now_s|is_over)":[^,]*'
rm day.rehearsal.json again.rehearsal.json end

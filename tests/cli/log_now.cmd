# a day that ended is told as of its end
baitfall log import "$SOURCE/examples/withy-pool/spring-day.journal.jsonl" --db day.db
baitfall log now --db day.db
# one that was forgotten to be closed, as of its last entry
head -120 "$SOURCE/examples/withy-pool/spring-day.journal.jsonl" | baitfall log import - --db half.db
baitfall log now --db half.db
baitfall log now --db half.db --json | cut -c1-200
# one that is open, by the clock
baitfall log now
echo "exit $?"
baitfall log add open "Withy Pool" 14 --set nets=1 --set net_limit_kg=20lb --at "50 min ago" >/dev/null
baitfall log add feed soft-two 30ml clump long --at "30 min ago" >/dev/null
baitfall log add fish 8lb --at "25 min ago" >/dev/null
baitfall log add fish 16lb --at "20 min ago" >/dev/null
baitfall log now | sed -E 's/[0-9]{2}:[0-9]{2}/CLOCK/g'
baitfall log now anything
baitfall log now --at 11:00
echo "exit $?"
baitfall log add note "$(printf 'two\nlines\tof it')" | sed -E 's/, [0-9:]{8} on .*//'
baitfall log add open "Withy Pool" 15
# a session whose every entry is crossed out
baitfall log add open "Withy Pool" 14 --db crossed.db >/dev/null
baitfall log cross last --db crossed.db >/dev/null
baitfall log now --db crossed.db | head -1
baitfall log sessions --db crossed.db | sed -E 's/^  [0-9a-f]{8}/  ID/'
rm crossed.db*

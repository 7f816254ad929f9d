# plain
# the same feeding differs by exactly nothing; another by a range, with how weak that is
day="$SOURCE/examples/withy-pool/spring-day.journal.jsonl"
baitfall review "$day" --what-if same
baitfall review "$day" --what-if "half, every 20 min" | grep -E '^  (fed|landed|difference)|^How weak' | sed 's/-\{0,1\}[0-9][0-9.]*/n/g'
baitfall review "$day" --what-if "hard-6 instead of soft two, none after 12:00" --json | grep -o -E '"(otherwise|fed)":\{[^}]*\}'
try() { baitfall review "$@"; echo "exit $?"; }
try "$day" --what-if "more of it"
try "$day" --what-if "hard-6 instead of cake"
try "$day" --what-if "99 times"
try "$day" --what-if half --svg x.svg
: > empty
try empty --what-if half
rm empty

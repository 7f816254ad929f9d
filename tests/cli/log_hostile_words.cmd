# what cannot be kept is refused with its reason, before anything is stored; a closed stream is no file
letters() { head -c "$2" /dev/zero | tr '\0' "$1"; }
bad=$(printf 'caf\351')
baitfall log add open "$bad"
baitfall log add open "  "
baitfall log add open "Withy Pool" 14 --at "2026-04-12 08:30" >/dev/null
baitfall log add note
baitfall log add note "" --note ""
baitfall log add note "$(letters x 16384)" | cut -c1-20 | sed 's/x*$//'
baitfall log add note "$(letters x 16385)"
baitfall log add fish --note "$bad"
baitfall log add fish --set species="$bad"
baitfall log add missed --at "99999999999 min ago"
baitfall log fix last at="1e300 min ago"
mkdir folder
baitfall log import folder
echo "exit $?"
baitfall log import - <&-
echo "exit $?"
baitfall log export day.journal.jsonl >&-
echo "exit $?"
baitfall log check
grep -c . day.journal.jsonl

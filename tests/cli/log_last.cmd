# `last` wherever an id stands; what --session names; options that mean nothing to a word are refused
hide() { sed -E 's/, [0-9:]{8} on .*//; s/^  [0-9a-f]{8}  [0-9:]{8}/  ID  TIME/; s/"(id|session|dev|run|of)":"[0-9a-f]*"/"\1":"X"/g; s/"(at|rec|at_text)":"[^"]*"/"\1":"T"/g'; }
baitfall log show last
baitfall log add open "Withy Pool" 14 >/dev/null
baitfall log add fish 2lb --set species=carp | hide
baitfall log fix last guess_kg=3lb --note "on the scales" | hide
baitfall log show last | hide
baitfall log cross last | hide
baitfall log show last | hide
baitfall log restore last | hide
baitfall log cross last | hide
baitfall log show last --json | hide
baitfall log add close >/dev/null
baitfall log add note too late | hide
baitfall log add note the wind got up --session last | hide
baitfall log show last | hide | head -1
baitfall log list --session last | tail -n +2 | hide | head -2
id=$(baitfall log list | grep Note | cut -c3-10)
baitfall log show "$id" --session last
baitfall log cross "$id" --at 11:00
baitfall log list --csv
baitfall log list --all --session last
baitfall log check --note x
baitfall log add missed --all
baitfall log add open --session last
baitfall log add note this --note that --session last
echo "exit $?"

baitfall log add open "Withy Pool" 14 >/dev/null
baitfall log add missed --at "1 min ago" >/dev/null
baitfall log add fish 2lb >/dev/null
rows() { baitfall log list | tail -n +2 | sed -E 's/^  [0-9a-f]{8}  [0-9:]{8}/  ID  TIME/; s/, wait .*//; s/  \(entered later\)//'; }
hide() { sed -E 's/, [0-9:]{8} on .*//; s/, wait .*//'; }
baitfall log cross last | hide
rows
baitfall log cross | hide
rows
baitfall log restore | hide
baitfall log restore last | hide
rows
baitfall log restore
echo "exit $?"
id=$(baitfall log list | grep Fish | cut -c3-10)
baitfall log cross "$id" | hide
baitfall log cross "$id"
echo "exit $?"
baitfall log show "$id" | grep -c '"kind":"cross"\|"kind":"restore"'

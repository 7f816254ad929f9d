export TZ=GMT0BST,M3.5.0/1,M10.5.0
baitfall log add open "Withy Pool" --at "2025-03-30 00:30" | sed 's/\[.*//'
at() { baitfall log add missed --at "$1" 2>&1 | sed 's/ \[.*//'; }
at "2025-03-30 01:30"
at "2025-03-30 02:30"
at "2025-03-30T02:30:07"
at 2025-07-01T10:00:00Z
at "2025-02-30 10:00"
at "2099-01-01 10:00"
at "25:00"
at "soon"
at "2025-10-26 01:30"
at "2025-10-26T01:30:00+01:00"
at "12/11/26"
at "yesterday 18:30" | sed -E 's/ \(.*\),/,/; s/ on .*/ on DAY/'
at "90 s ago" | sed -E 's/ \(.*\),/,/; s/[0-9:]{8} on .*/TIME on DAY/'
baitfall log export | sed -E 's/.*"at":"([^"]*)","pm_s":([0-9.]*).*/\1 \2/' | head -4

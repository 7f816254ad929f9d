# eight at the same instant: one opens the session, the others are told it is open; then all eight enter a fish
for i in 1 2 3 4 5 6 7 8; do
    (baitfall log add open "Withy Pool" 14 > said.$i 2>&1; echo "exit $?" >> said.$i) &
done
wait
grep -h '^exit' said.* | sort | uniq -c
grep -hc 'a session is open already (Withy Pool, peg 14)' said.* | sort | uniq -c
for i in 1 2 3 4 5 6 7 8; do
    (baitfall log add fish > said.$i 2>&1; echo "exit $?" >> said.$i) &
done
wait
grep -h '^exit' said.* | sort | uniq -c
baitfall log sessions | sed 's/^ *[0-9a-f]*  [^(]*//'
baitfall log check
rm said.*

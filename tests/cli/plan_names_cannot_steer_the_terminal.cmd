# plain
# Names of a plan, its rigs and its rules come out as plain text, on the terminal, in the drawing and in the calendar.
plan='{"name":"\u001b[31mred","venue":{"rules":["\u001b[5mblink"]},"kit":{"rigs":[{"id":"r\u001b]0;x\u0007"}]},"spots":[{"id":"\u001b[2J<b>","depth":"1 m","rig":"r\u001b]0;x\u0007"}],"feed":[{"spot":"\u001b[2J<b>","bait":"hard-4","count":10}],"session":{"starts":"2026-04-12T09:00:00+01:00"}}'
echo "$plan" | baitfall plan - --draws 16 --svg card.svg --ics prep.ics >said; echo "exit $?"
echo "$plan" | baitfall peg - --plumbed 5m:1m >>said; echo "exit $?"
grep -c $'\033' said card.svg prep.ics
grep -c '<b>' card.svg
sed -n '1p;/^Rules/,/^$/p' said; rm said card.svg prep.ics

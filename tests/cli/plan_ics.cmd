# plain
# Every line ends in CR LF; the moment it was written is this run's own.
plan="$SOURCE/examples/withy-pool/peg-14.plan.json"
baitfall plan "$plan" --draws 64 --ics prep.ics >/dev/null && grep -c $'\r$' prep.ics && tr -d '\r' <prep.ics | grep -v DTSTAMP
baitfall plan "$plan" --draws 64 --ics prep.ics
echo "exit $?"
echo '{"spots":[{"id":"a","depth":"1 m"}],"feed":[{"spot":"a","bait":"hard-4","count":10}]}' | baitfall plan - --draws 16 --ics other.ics

# slips are said with what is accepted, nothing is lost, and the next line is heard
printf 'feed\nfeed cake 3\nfeed hard-4 -3\nfeed hard-4\nlower nowhere\nwait\nwait x\nwait 99h\nuntil noon\nuntil bite\nmissed\ndance\nfeed "hard-4\nfeed hard-4 10\n' |
    baitfall rehearse --out kept.json
echo "exit $?"
grep -c kind kept.json
try() { "$@" < /dev/null; echo "exit $?"; }
try baitfall rehearse --out kept.json
try baitfall rehearse --seed x
try baitfall rehearse nosuch.json
cp "$SOURCE/examples/withy-pool/peg-14.plan.json" .
try baitfall rehearse peg-14.plan.json
try baitfall rehearse kept.json --seed 2
echo '{"rehearsal":1,"seed":1,"setup":{},"choices":[{"t_s":0,"kind":"feed","body":{"bait":"hard-4","count":1e9}}]}' > bad.json
try baitfall rehearse bad.json
echo '{"rehearsal":1,' > cut.json
try baitfall rehearse cut.json
printf '\033[2J\n' | baitfall rehearse | tail -1
rm peg-14.plan.json kept.json bad.json cut.json

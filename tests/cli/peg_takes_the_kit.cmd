# A plan without a kit is read with this machine's, and --draws is heard.
echo '{"rigs":[{"id":"mine","float":{"rating":"0.6 g"}}]}' >kit.json
echo '{"spots":[{"id":"a","depth":"1 m","rig":"mine"}],"feed":[{"spot":"a","bait":"hard-4","count":10}]}' >plan.json
baitfall peg plan.json --kit kit.json --plumbed 5m:1m --draws 16 | sed -n '/^Rig/,/carry/p'
baitfall peg plan.json --plumbed 5m:1m
baitfall peg plan.json --kit kit.json --plumbed 5m:1m --draws 3

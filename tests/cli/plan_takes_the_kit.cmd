# plain
echo '{"baits":[{"id":"soft two","density":"1100 kg/m3"}],"pots":[{"id":"small","volume":"3 ml"}]}' >kit.json
echo '{"spots":[{"id":"long","depth":"1.5m","pot":"small"}],"feed":[{"spot":"long","bait":"soft two"}]}' >p.json
baitfall plan p.json --kit kit.json | sed -n 5,7p
baitfall plan p.json

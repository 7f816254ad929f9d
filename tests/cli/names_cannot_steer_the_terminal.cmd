printf '{"baits":[{"id":"a\\u001b[31mb","state":"egg\\u0007"}]}' >kit.json; baitfall fall hard-4 1m --kit kit.json
printf '{"name":"\\u001b[2J\\u009b31m","water":{},"x\\u001b[31m":1}' | baitfall plan -
sed '0,/"name": "/s//"name": "\\u001b[2J\\u009b31m/' "$SOURCE/examples/withy-pool/peg-14.plan.json" | baitfall plan - | head -1

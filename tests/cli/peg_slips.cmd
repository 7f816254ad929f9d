plan="$SOURCE/examples/withy-pool/peg-14.plan.json"
try() { baitfall peg "$@"; echo "exit $?"; }
try
try "$plan"
try absent.json --plumbed 5m:1m
try "$plan" --plumbed 5m
try "$plan" --plumbed 5m:1m:2m
try "$plan" --plumbed 5m:-1m
try "$plan" --plumbed 50m:1m
try "$plan" --plumbed 1m:1m,2m:1m,3m:1m,4m:1m,5m:1m,6m:1m,7m:1m
try "$plan" --plumbed 5m:1m gale
try "$plan" --plumbed 5m:1m light brisk
try "$plan" --plumbed 5m:1m 99m/s
echo '[1' | try - --plumbed 5m:1m
echo '{"schema":1},"peg":{"a":1}' | try - --plumbed 5m:1m
echo '{"schema":1,"kit":{"rigs":[{"id":"a","shots":[{"size":"No 8","above_hook":"-5 cm"}]}]}}' | try - --plumbed 5m:1m

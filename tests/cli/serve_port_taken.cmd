mkdir page && echo here >page/index.html
: >log
baitfall serve --port 0 --folder page >>log &
first=$!
for i in $(seq 100); do grep -q localhost log && break; sleep 0.05; done
port=$(sed -n 's#.*localhost:\([0-9]*\)/.*#\1#p' log)
baitfall serve --port "$port" --folder page 2>said
code=$?
sed "s/$port/PORT/" said
kill -TERM $first
wait $first
echo "the first ended with $?"
rm -r page log said
exit $code

# The card is one A5 page, or two of A6; it replaces nothing unasked.
plan="$SOURCE/examples/withy-pool/peg-14.plan.json"
pages() { grep -a -o '/Count [0-9]*\|/MediaBox \[ 0 0 [0-9]*\.[0-9] *\|/MediaBox \[ 0 0 [0-9]*' "$1"; }
baitfall plan "$plan" --draws 64 --pdf a6.pdf >/dev/null && head -c 5 a6.pdf && echo && pages a6.pdf
baitfall plan "$plan" --draws 64 --pdf a5.pdf --view card-a5 >/dev/null && pages a5.pdf
baitfall plan "$plan" --draws 64 --pdf a5.pdf
echo "exit $?"
baitfall plan "$plan" --draws 64 --svg back.svg --view card-a6-back >/dev/null && grep -c '<svg' back.svg

baitfall log add mised
baitfall log add missed
baitfall log add open "Withy Pool" >/dev/null
baitfall log add feed
baitfall log add feed soft-two sprinkel
baitfall log add feed soft-two 30ml 40
baitfall log add feed soft-two 5kg
baitfall log add missed --set depth=1m
baitfall log add fish --set guess=heavy
baitfall log add lower one two three
baitfall log add rig in
baitfall log add water 80C
baitfall log add touch --set n=many
baitfall log add fish --set held=tail
baitfall log add missed --set spot
baitfall log add feed "$(printf 'a%.0s' $(seq 60))"
baitfall log add net two
baitfall log add close --at "2001-01-01 07:00"
baitfall log add open "Another" 
echo "exit $?"
baitfall log check
baitfall log add missed 2
baitfall log add fish 2.5
baitfall log add feed soft two 30ml long
baitfall log add feed soft-two 1e400 --session last

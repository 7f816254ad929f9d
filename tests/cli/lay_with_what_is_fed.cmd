# Nothing said of the hook: what is fed is on it. A ball of groundbait is not.
baitfall lay hard-4 middle 1.6m 12C --draws 64
echo "exit $?"
baitfall lay groundbait middle 1.6m 12C --draws 64

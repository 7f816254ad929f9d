baitfall rig middle hard-6 1.6m --draws 64 --svg rig.svg >/dev/null && grep -c '<svg' rig.svg
baitfall rig middle hard-6 1.6m --draws 64 --svg rig.svg
echo "exit $?"
baitfall rig middle hard-6 1.6m --draws 64 --svg rig.svg --force >/dev/null && echo replaced

# As at the peg. "light" is a rig, and after one the wind.
baitfall rig middle hard-6 1.6m light left --draws 64 | sed -n '/water wind/p'
baitfall aim hard-4 1.6m middle right brisk --draws 64 | sed -n '/water wind/p'
baitfall rig middle hard-6 1.6m left 90deg
echo "exit $?"
baitfall rig middle hard-6 1.6m light 3m/s
echo "exit $?"
baitfall fall hard-4 1m left

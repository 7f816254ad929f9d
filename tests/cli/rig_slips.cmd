try() { baitfall rig "$@" --draws 16; echo "exit $?"; }
try
try middle
try nonsense hard-6 1.6m
try middle hard-6 1.6m 99m/s
try middle hard-6 13m
try middle groundbait 1.6m
try middle hard-6 hard-4 1.6m
try middle hard-6 1.6m --set rig.float.rating=99g
try middle hard-6 1.6m --set rig.shots=7
try middle hard-6 1.6m --set rig.tip_to_float=10cm --set hold.tip_height=50cm
try middle hard-6 1.6m --view above --svg rig.svg

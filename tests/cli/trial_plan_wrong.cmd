baitfall trial plan --set a="soft two"
echo "exit $?"
baitfall trial plan --set a=x --set b=y --block 90s
echo "exit $?"
baitfall trial plan --set a=x --set b=y --washout 11min
echo "exit $?"
baitfall trial plan --set a=x --set b=y --set colour=red
echo "exit $?"
baitfall trial --hours 4

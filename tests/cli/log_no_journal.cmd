baitfall log list
echo "exit $?"
baitfall log add missed
echo "exit $?"
baitfall log export
echo "exit $?"
baitfall log

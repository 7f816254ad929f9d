echo "some text" >text
baitfall log list --db text
echo "exit $?"
baitfall log add open "Withy Pool" --db text
cat text
mkdir folder
baitfall log list --db folder
baitfall log list --db ""
baitfall log list --db :memory:

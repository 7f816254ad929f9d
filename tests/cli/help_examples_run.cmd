# plain
# every example of the help, as it stands there, one after another: each does what it says, but there is no trial yet
ln -s "$SOURCE/examples" examples
for command in fall pot soak throw spread plan measure log review rehearse season trial catalogue form demo help man completion; do
    baitfall help $command | sed -n 's/^  baitfall /baitfall /p' | while IFS= read -r line; do
        bash -c "$line" >out 2>err </dev/null
        echo "$? $line"
        cat err
    done
done
rm -f out err examples day.rehearsal.json

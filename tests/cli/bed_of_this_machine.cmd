# entries of this machine's journal, a look with the count that was shown
baitfall log add open "Withy Pool" 14 > said
baitfall log add feed hard-4 30 clump long >> said
baitfall log add look less long 24 >> said
baitfall log add look right long 20 >> said
grep -c . said
baitfall log export day.jsonl > said
grep -o '"body":{"spot":"long","eye[^}]*}' day.jsonl
baitfall bed | sed -n 's/ (..:..)//g; s/long [0-9]* s ago/long a moment ago/; 3,5p'
baitfall bed --session last --json | grep -o '"spots":\[{"spot":"[a-z]*","fed":[0-9]*'

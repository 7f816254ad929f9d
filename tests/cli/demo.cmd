baitfall demo
# the review is what the command that is shown really says
baitfall demo | sed -n '/^\$ baitfall review/,$p' | sed -n '2,13p' >shown
baitfall review "$SOURCE/examples/withy-pool/spring-day.journal.jsonl" | head -12 | cmp - shown && echo "the same"
rm shown
# a word that would change nothing is not swallowed
baitfall demo perch; echo "exit $?"

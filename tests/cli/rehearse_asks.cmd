# plain
# bed and next answer from what showed, without the truth; undo takes back; lines from a file
cat > lines <<'END'
# a comment, and quotes
feed 'hard-4' 15 long clump
lower "long" hard-6
wait 90s
bed
next
undo
now
quit
END
baitfall rehearse lines --seed 4 > said
grep -E '^(Known|Reckoned|Next|Because)' said
sed -n '/^Taken back/,$p' said
# fish as earlier sessions told: another truth than the book's by the same seed
baitfall log import "$SOURCE/examples/withy-pool/spring-day.journal.jsonl" --db try.db > imported
parameters() { echo end | baitfall rehearse --seed 5 --json "$@" | grep -o '"parameters":\[[^]]*\]'; }
[ "$(parameters)" = "$(parameters --learned --db try.db)" ] || echo "another truth"
[ "$(parameters)" = "$(parameters)" ] && echo "the same truth"
rm -r lines said imported try.db "$HOME/.cache" 2> /dev/null

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
rm lines said

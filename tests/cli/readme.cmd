# plain
# The commands on top of README.md say what it prints for them.
ln -s "$SOURCE/examples" examples
block=$(sed -n '/^```console$/,/^```$/p' "$SOURCE/README.md" | sed '1d;$d')
said=$(grep '^\$ ' <<<"$block" | sed 's/^\$ //' | while read -r line; do echo "\$ $line"; eval "$line"; done)
diff <(echo "$block") <(echo "$said") && wc -l <<<"$block"

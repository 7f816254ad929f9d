baitfall completion fish | grep -c "^complete -c baitfall" >/dev/null && baitfall completion zsh | head -1

baitfall completion bash | grep -oE ' (spread|measure|completion|help)\) words="([a-z]+ ){4}'
baitfall completion fish | grep -E "(measure|completion) *' -a '|completion' -a '"

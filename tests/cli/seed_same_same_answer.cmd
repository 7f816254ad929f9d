# plain
baitfall fall hard-4 1.5m 12C --json --seed 7 >one; baitfall fall hard-4 1.5m 12C --json --seed 7 >two; cmp one two && rm one two

# plain
baitfall fall maggot 1.5m | grep -A1 crawls
baitfall spread worm 1.5m | grep -A1 crawls
baitfall fall groundbait 1.5m | grep -A1 'breaks up'
baitfall fall hard-4 1.5m | grep -c crawls
baitfall pot maggot | grep -c label
true

# after a bite a wait with the rig out lasts as long as was said; the next bite ends one
printf 'feed hard-4 15\nlower\nuntil bite\nwait 10\nwait 90s\nlower\nuntil bite\n' | baitfall rehearse --seed 5 | tail -n +9

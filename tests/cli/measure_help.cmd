baitfall help measure | sed -n '/^baitfall measure/,/^A bare/p'; baitfall measure drop hard-4 --height 30cm; baitfall measure drop hard-4 --times 2.2 --seed 3

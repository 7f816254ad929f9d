echo "{}" | baitfall fall - --seed 3

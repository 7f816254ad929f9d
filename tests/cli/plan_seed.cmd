# plain
baitfall plan "$SOURCE/examples/withy-pool/peg-14.plan.json" --json --seed 1 --draws 64 >one; baitfall plan "$SOURCE/examples/withy-pool/peg-14.plan.json" --json --seed 2 --draws 64 >two; cmp -s one two || echo differ; rm one two

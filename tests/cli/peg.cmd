baitfall peg "$SOURCE/examples/withy-pool/peg-14.plan.json" light left 11.5C --peg 22 --plumbed 2.5m:0.6m,5m:1.35m,11.5m:1.62m

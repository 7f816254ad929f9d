baitfall plan "$SOURCE/examples/withy-pool/peg-14.plan.json" --draws many

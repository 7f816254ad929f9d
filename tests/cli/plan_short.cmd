# plain
sed "s/\"65 g\"/\"20 g\"/" "$SOURCE/examples/withy-pool/peg-14.plan.json" | baitfall plan - | grep -A2 Altogether; exit "${PIPESTATUS[1]}"

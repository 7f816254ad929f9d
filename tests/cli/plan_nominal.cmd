# One answer at the inputs as given: no ranges, no chances, nothing of the day.
sed '1s/{/{ "nominal": true,/' "$SOURCE/examples/withy-pool/peg-14.plan.json" >nominal.json
baitfall plan nominal.json && rm nominal.json

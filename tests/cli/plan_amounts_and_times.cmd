ask() { sed "$1" "$SOURCE/examples/withy-pool/peg-14.plan.json" | baitfall plan -; }
ask 's/"to": "150 min"/"from": "3 h", "to": "2 h"/; s/"from": "0 s", //'
ask 's/, "count": 100 }/ }/'
ask 's/"count": 100 }/"count": 100, "mass": "2 kg" }/'
ask 's/{ "bait": "hard six", "count": 100 }/{ "bait": "hard four", "count": 100 }/'

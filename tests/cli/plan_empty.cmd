baitfall plan - </dev/null

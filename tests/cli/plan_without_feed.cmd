echo "{\"spots\":[]}" | baitfall plan -

printf "{\"a\":%.0s" $(seq 100) | baitfall fall -

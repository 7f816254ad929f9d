baitfall measure drip hard-4

baitfall catalogue | head -3

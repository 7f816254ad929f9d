baitfall spread hard-4 1.5m 12C --png bed.png >/dev/null && head -c 4 bed.png | od -c | head -1

baitfall spread hard-4 1.5m 12C --svg bed.svg >/dev/null && head -c 5 bed.svg

baitfall spread hard-4 1.5m 12C --svg none/bed.svg >/dev/null

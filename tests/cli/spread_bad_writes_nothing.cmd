baitfall spread hard-4 300m 12C --svg bed.svg

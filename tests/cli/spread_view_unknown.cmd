baitfall spread hard-4 1.5m 12C --view below --svg bed.svg

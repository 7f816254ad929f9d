baitfall lay hard-4 middle hard-6 1.6m 12C --draws 128

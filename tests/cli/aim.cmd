baitfall aim hard-4 middle hard-6 1.6m 12C "3 m/s" 90deg --draws 512

baitfall spread hard-4 1.5m 12C 20ml "3 m/s" sprinkle

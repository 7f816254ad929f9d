baitfall spread hard-6 1.5m hand 5 | sed -n 1,8p; baitfall spread hard-6 1.5m hand | sed -n 1,4p

baitfall spread groundbait 1.5m
baitfall spread groundbait 1.5m hand --short

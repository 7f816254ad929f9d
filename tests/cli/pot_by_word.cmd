baitfall pot hard-4 small --short
baitfall pot hard-4 large --short
baitfall pot hard-4 medum

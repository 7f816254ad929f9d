baitfall demo

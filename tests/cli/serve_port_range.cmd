baitfall serve --port 99999999

baitfall serve --folder .

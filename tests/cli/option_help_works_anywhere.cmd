baitfall pot micros-2 --help

baitfall --version | sed "s/ [0-9.]* / VERSION /"

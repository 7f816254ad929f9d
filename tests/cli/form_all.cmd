baitfall form

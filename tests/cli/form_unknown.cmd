baitfall form pott

baitfall fall hard-4 "1.5 fathoms"

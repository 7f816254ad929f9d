baitfall completion tcsh

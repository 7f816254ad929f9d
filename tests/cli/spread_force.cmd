echo mine >bed.svg; baitfall spread hard-4 1.5m 12C --svg bed.svg --force >/dev/null && head -c 4 bed.svg && echo

echo mine >bed.svg; baitfall spread hard-4 1.5m 12C --svg bed.svg; code=$?; cat bed.svg; exit $code

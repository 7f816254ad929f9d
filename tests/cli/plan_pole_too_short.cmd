# A spot that the pole does not reach is said; one just at its length is not.
plan() { echo "{\"pole\":\"$1\",\"water\":{\"wind\":\"1 m/s\"},\"spots\":[{\"id\":\"far\",\"distance\":\"11.5 m\",\"depth\":\"1.5m\"}],\"feed\":[{\"spot\":\"far\",\"bait\":\"hard-4\",\"count\":12}]}"; }
plan 5m | baitfall plan - --draws 16 | grep "farthest"
plan 11.5m | baitfall plan - --draws 16 | grep -c "farthest"

# A line shorter than the tip is high; shot heavier than the float: both say what is wrong, and the rest is answered.
ask() { echo "{\"kit\":{\"rigs\":[{\"id\":\"own\",$1}]},\"spots\":[{\"id\":\"a\",\"depth\":\"1 m\",\"rig\":\"own\",\"tip_height\":\"$2\"}],\"feed\":[{\"spot\":\"a\",\"bait\":\"hard-4\",\"count\":10}]}" |
    baitfall plan - --draws 16 | sed -n '/^a$/,/^  lay-in/p'; }
ask '"tip_to_float":"10 cm"' '50 cm'
ask '"float":{"rating":"0.1 g"},"shots":[{"size":"No 1","count":9,"above_hook":"30 cm"}]' '30 cm'

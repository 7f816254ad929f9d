baitfall measure drop hard-4 --height 30cm --times "$(seq -s, 1 41)"

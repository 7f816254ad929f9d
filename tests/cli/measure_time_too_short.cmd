baitfall measure drop hard-4 --height 30cm --times 2.2,0; baitfall measure drop hard-4 --height 30cm --vessel 1mm --times 2.2

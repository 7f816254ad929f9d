baitfall measure drop hard-4 --height 30cm --times "2.2,3 furlongs"; baitfall measure drop hard-4 --height 30cm --times 2.2,,2.3

baitfall measure pull --rest 30cm --loads 140g,70g --lengths 120cm,60cm --set elastic.outer=1.2mm

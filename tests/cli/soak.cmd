baitfall soak micros-2 6min 15C

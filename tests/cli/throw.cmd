baitfall throw hard-6 14m/s

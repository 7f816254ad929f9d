baitfall measure throw hard-6 --distances 11m,1.15m,10.8m,11.2m --date 2026-04-11

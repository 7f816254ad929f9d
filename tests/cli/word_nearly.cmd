for word in corn worm-piece HARD-4 meat-8 expander heaped; do baitfall fall $word 1m; done

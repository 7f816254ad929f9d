baitfall aim hard-4 middle 1.6m --draws 64 --png miss.png >/dev/null && head -c 4 miss.png | tail -c 3 && echo

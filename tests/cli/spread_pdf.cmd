baitfall spread hard-4 1.5m 12C --view side --pdf bed.pdf >/dev/null && head -c 5 bed.pdf && echo

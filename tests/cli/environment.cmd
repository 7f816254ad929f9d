env -u HOME baitfall measure drop hard-4 --height 30cm --times 2.2
XDG_DATA_HOME=relative baitfall measure drop hard-4 --height 30cm --vessel 12cm --times 2.2,2.1 --date 2026-04-11 >/dev/null
LC_ALL=de_DE.UTF-8 TERM=dumb NO_COLOR=1 baitfall fall hard-4 1.5m --kit <(echo '{}') --short
baitfall catalogue hard-4 >&-; echo $?

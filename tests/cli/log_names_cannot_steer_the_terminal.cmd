line() {
    printf '{"v":1,"id":"%032d","session":"00000000000000000000000000000001","dev":"0000000a","run":"0000000b","seq":%d,"kind":"%s","at":"2026-04-12T09:0%d:00.000+01:00","pm_s":5,"rec":"2026-04-12T09:0%d:00.000+01:00","body":{%s}}\n' "$1" "$1" "$2" "$1" "$1" "$3"
}
{
    line 1 open '"venue":"Withy \u202eloop","peg":"=1+1"'
    line 2 lift '"outcome":"missed","note":"\u001b[2J\u009b31m <script>\u2066x"'
    line 3 lift '"outcome":"missed","spot":"a\u001bb"'
} | baitfall log import -
baitfall log list
baitfall log sessions
baitfall log show 00000000000000000000000000000002 | tail -1
baitfall log export --csv | cut -d, -f 7,18,19,64- | tail -n +2

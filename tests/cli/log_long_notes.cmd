# eighty notes of 16 KiB: more than one answer holds, so the list asks again and loses none
note=$(head -c 16384 /dev/zero | tr '\0' x)
line() { printf '{"v":1,"id":"%032x","session":"%032x","dev":"0000000a","run":"00000001","seq":%d,"kind":"%s","at":"2026-04-12T09:%02d:%02d+01:00","pm_s":5,"rec":"2026-04-12T20:00:00+01:00","body":{%s}}\n' "$1" 1 "$1" "$2" $(($1 / 60)) $(($1 % 60)) "$3"; }
{
    line 1 open '"venue":"Withy Pool"'
    for i in $(seq 2 81); do line "$i" note "\"note\":\"$note\""; done
} | baitfall log import -
baitfall log list | cut -c13-40 | sort | uniq -c | wc -l
baitfall log list | wc -c
baitfall log list --json | grep -o '"id":"[0-9a-f]*"' | sort -u | wc -l
baitfall log list --all --json | grep -o '"id":"[0-9a-f]*"' | sort -u | wc -l

# twelve blocks by the plan of seed 7; one to three bites in a block of soft two, three or
# four of hard four, every wait a minute
day=2026-04-12T
at() { date -u -d "$day 08:00 UTC + $1 seconds" +%Y-%m-%dT%H:%M:%S.000+00:00; }
n=0
line() {
    n=$((n + 1))
    printf '{"v":1,"id":"%032x","session":"%032x","dev":"00000001","run":"00000001","seq":%d,"kind":"%s","at":"%s","pm_s":5,"rec":"%s","body":{%s}}\n' $n 1 $n "$2" "$(at "$1")" "$(at "$1")" "$3"
}
{
    line 0 open '"venue":"Withy Pool (invented)","note":"trial seed 7, 12 blocks of 20 min, first 5 min dropped, a = soft two, b = hard four"'
    block=0
    for feed in b a b a b a a b a b a b; do
        bites=$((1 + block % 3))
        [ $feed = b ] && bites=$((3 + block % 2))
        for i in $(seq $bites); do
            s=$((block * 1200 + 300 + i * 120))
            line $s lower ''
            line $((s + 60)) lift '"outcome":"missed"'
        done
        line $((block * 1200 + 900)) lower ''
        line $((block * 1200 + 1190)) lift '"outcome":"nothing"'
        block=$((block + 1))
    done
    line 14400 close ''
} >day.jsonl
baitfall trial day.jsonl

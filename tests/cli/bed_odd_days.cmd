# plain
# invented days that are odd: only a tally; seventeen baits and nine spots; a volume of a bait nobody knows; two days long;
# what is certain has no range, what is not is said to be likely
sid=11111111111111111111111111111111
n=0
# entry KIND HH:MM:SS BODY [DAY]
entry() {
    n=$((n + 1))
    printf '{"v":1,"id":"%032x","session":"%s","dev":"0000000a","run":"0000000b","seq":%d,"kind":"%s","at":"%sT%s.000+01:00","pm_s":5,"rec":"%sT%s.000+01:00","body":%s}\n' \
        $n $sid $n "$1" "${4:-2026-06-10}" "$2" "${4:-2026-06-10}" "$2" "$3"
}
opened() { sid=$(printf '%032x' $((n + 1))); entry open 09:00:00 '{"venue":"Mere (invented)","peg":"3"}'; }
said() { grep -v 'of the model.s numbers' | sed -n "$1p"; }

{ opened; entry tally 09:30:00 '{"spot":"long","from":"2026-06-10T09:00:00+01:00","to":"2026-06-10T09:30:00+01:00","landed":5,"missed":3,"touch":10}'; } > tally
baitfall bed tally | said 3,12

{ opened; for i in $(seq 17); do entry feed 09:$((i + 10)):00 '{"spot":"a","bait":"bait '$i'","count":20,"how":"clump"}'; done
  for i in $(seq 9); do entry feed 09:$((i + 30)):00 '{"spot":"spot '$i'","bait":"bait 1","count":20,"how":"clump"}'; done; } > many
baitfall bed many --spot a --at 09:27 | grep -e 'Last put-in' -e '^  left' -e 'More than'
baitfall bed many --spot a --at 09:45 | grep -A1 'More than'

{ opened; entry feed 09:01:00 '{"spot":"a","bait":"nobody knows","volume_m3":0.0001,"how":"clump"}'; } > volume
baitfall bed volume | grep -e 'Last put-in' -e '^  left' -e 'lies over' -e 'in short'

{ opened; entry feed 09:01:00 '{"spot":"a","bait":"hard-4","count":55}'; entry lift 11:00:00 '{"spot":"a","outcome":"landed"}' 2026-06-12; } > long
baitfall bed long | grep -e 'fed' -e 'Only'

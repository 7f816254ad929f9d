# a session left open for a month is answered, and not drawn
line() { printf '{"v":1,"id":"%032x","session":"%032x","dev":"00000001","run":"00000001","seq":%d,"kind":"%s","at":"%s","pm_s":5,"rec":"%s","body":{%s}}\n' $1 1 $1 $2 $3 $3 "$4"; }
{ line 1 open 2026-04-12T09:00:00.000+00:00; line 2 lift 2026-05-12T09:00:00.000+00:00 '"outcome":"missed"'; } >day.jsonl
baitfall review day.jsonl --svg day.svg
echo "exit $?"
baitfall review day.jsonl | sed -n 3,4p

# plain
cat >p.json <<END
{ "draws":16, "spots":[{"id":"long","depth":"1.5m"}], "session":{"hours":3},
  "feed":[{"spot":"long","bait":"hard-4","count":12},{"spot":"long","bait":"hard-6","count":5,"from":"4 h"},
          {"spot":"long","bait":"hard-8","count":5,"every":"30 min","to":"4 h"}] }
END
baitfall plan p.json | grep -A2 'begins 240 min\|last put-in is'

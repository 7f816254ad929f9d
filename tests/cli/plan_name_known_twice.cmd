cat >p.json <<END
{ "spots":[{"id":"long","depth":"1.5m"}], "kit":{"baits":[{"id":"hard four"}],"hook_baits":[{"id":"hard four"}]},
  "feed":[{"spot":"long","bait":"hard for"}] }
END
baitfall plan p.json

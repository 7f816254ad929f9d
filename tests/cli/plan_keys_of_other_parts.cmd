# plain
cat >p.json <<END
{ "schema":1, "name":"all of it", "venue":{"name":"x"}, "pole_m":13, "unknown_peg":{"depth_least_m":1,"depth_most_m":1.5,"wind_most_m_s":3},
  "kit":{"hook_baits":[],"rigs":[{"id":"r"}],"elastics":[]},
  "spots":[{"id":"long","depth":"1.5m","rig":"r","overdepth_m":0.05,"aim":{"pot_comp_m":0.05}}],
  "feed":[{"spot":"long","bait":"hard-4","count":12}],
  "session":{"hours":3,"starts":"2026-04-12T09:00:00+01:00","species":["carp"],"objective":"weight","target_kg":10,"nets":{"count":2}} }
END
baitfall plan p.json | head -11

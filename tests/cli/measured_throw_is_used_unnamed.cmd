baitfall measure throw hard-6 --distances 9m,9.5m,8.8m,9.2m "2 m/s" 90deg --date 2026-04-11
baitfall measure throw hard-6 --distances 9m,9.5m,8.8m,9.2m "2 m/s" 90deg --date 2026-04-12 >/dev/null
grep -c '"was":\[{"until":"2026-04-11","by":"throw","speed_m_s":12,.*},{"until":"2026-04-12","by":"throw","speed_m_s":' home/.local/share/baitfall/kit.json ../home/.local/share/baitfall/kit.json 2>/dev/null
baitfall throw hard-6 | sed -n 1,4p
baitfall throw hard-6 14m/s | sed -n 1,4p

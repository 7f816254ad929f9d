baitfall log add open "Withy Pool" 14 --at 2026-04-12T08:30:00+01:00 >/dev/null
baitfall log add fish 2lb --at 2026-04-12T09:00:00+01:00 >/dev/null
hide() { sed -E 's/\[[0-9a-f]{8}\]/[ID]/; s/^  [0-9a-f]{8}/  ID/'; }
baitfall log fix last mass=3lb species=carp | hide
baitfall log fix last at=2026-04-12T09:01:00+01:00 --note "by the watch" | hide
baitfall log list | hide
baitfall log fix last depth=1m
baitfall log fix last peg=3
baitfall log fix last
baitfall log fix last mass=heavy
baitfall log fix

# ids, device and the time of entry differ each time
hide() { sed -E 's/\[[0-9a-f]{8}\]/[ID]/'; }
add() { baitfall log add "$@" | hide; }
add open "Withy Pool" 14 --set hours=5 --at 2026-04-12T08:30:00+01:00
add box soft-two 65g --at 2026-04-12T08:40:00+01:00
add feed soft-two 30ml clump long --at 2026-04-12T08:59:00+01:00
add lower long hard-six --at 2026-04-12T09:00:00+01:00
add missed --at 2026-04-12T09:02:10+01:00
add fish 2lb --set species=carp --note "in the lip" --at 2026-04-12T09:05:00+01:00
add lost --at 2026-04-12T09:06:00+01:00
add foul --at 2026-04-12T09:07:00+01:00
add nothing --at 2026-04-12T09:08:00+01:00
add touch 3 --at 2026-04-12T09:09:00+01:00
add net 2 --at 2026-04-12T09:10:00+01:00
add net 2 18.4kg --at 2026-04-12T09:11:00+01:00
add water 12C --at 2026-04-12T09:12:00+01:00
add plumb "5ft 3in" 11m long --at 2026-04-12T09:13:00+01:00
add look more --at 2026-04-12T09:14:00+01:00
add tally --set from=2026-04-12T09:20:00+01:00 --set to=2026-04-12T09:50:00+01:00 --set missed=3 --at 2026-04-12T09:50:00+01:00
add note the wind got up --at 2026-04-12T09:51:00+01:00
add close --at 2026-04-12T13:00:00+01:00
baitfall log list --session "$(baitfall log sessions | cut -c3-10)" | sed -E 's/^  [0-9a-f]{8}/  ID/'

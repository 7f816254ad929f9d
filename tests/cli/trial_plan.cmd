baitfall trial plan --set a="soft two" --set b="hard four" --hours 4 --seed 7 --bites 15

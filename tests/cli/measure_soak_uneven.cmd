baitfall measure soak hard-4 --dry 20g --after 5min,10min --wet 30g; baitfall measure soak hard-4 --dry 20g --after 5min --wet 10g

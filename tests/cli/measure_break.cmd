baitfall measure break middle line --broke 0.9kg,1.0kg,0.95kg --date 2026-04-11 --kit kit.json

baitfall measure float middle --took 0.37g,0.38g --set mass_frac=1 --set mass_pm_frac=0.02 --date 2026-04-11; grep -o "\"until\":\"[^\"]*\",\"by\":\"[a-z]*\"" "$HOME/.local/share/baitfall/kit.json"

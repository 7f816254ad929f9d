baitfall spread hard-6 1.5m throw | grep -A1 -e "further out than" -e "comes down"

baitfall spread hard-4 1m --svg -; baitfall spread hard-4 1m --svg ''; baitfall spread hard-4 1m --view side

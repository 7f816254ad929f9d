baitfall man >m; head -1 m | sed "s/baitfall [0-9.]*/baitfall VERSION/"; grep "^[.']" m | grep -vE "^\.(TH|SH|SS|PP|EX|EE|TP|B|I)( |$)"; rm m

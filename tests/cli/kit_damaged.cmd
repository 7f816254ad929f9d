echo "{\"baits\":[" >kit.json; baitfall fall hard-4 1.5m --kit kit.json; code=$?; cat kit.json; exit $code

echo "{\"baits\":[{\"id\":\"soft two\",\"density\":\"1100 kg/m3\"}]}" >kit.json; baitfall fall "soft two" 1.5m 12C --kit kit.json | head -4

echo "{\"spots\":[{\"id\":\"long\",\"depth\":\"1.5m\"}],\"feed\":[{\"spot\":\"lnog\",\"bait\":\"hard-4\",\"count\":5}]}" | baitfall plan -

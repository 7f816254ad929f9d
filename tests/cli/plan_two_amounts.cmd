echo "{\"spots\":[{\"id\":\"long\",\"depth\":\"1.5m\"}],\"feed\":[{\"spot\":\"long\",\"bait\":\"hard-4\",\"count\":5,\"fill\":0.5}]}" | baitfall plan -

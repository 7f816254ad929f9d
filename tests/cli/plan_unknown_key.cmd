echo "{\"spots\":[{\"id\":\"long\",\"depth\":\"1.5m\",\"colour\":\"green\"}],\"feed\":[]}" | baitfall plan -

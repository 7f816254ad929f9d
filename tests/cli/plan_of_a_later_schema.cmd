echo "{\"schema\":2,\"feed\":[]}" | baitfall plan -

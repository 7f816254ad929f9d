baitfall plan none.plan.json

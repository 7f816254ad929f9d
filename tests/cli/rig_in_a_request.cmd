# What is wrong in a rig is said by its whole path.
ask() { echo "{\"water\":{\"depth\":\"1.6 m\"},\"hook_bait\":\"hard-6\",\"draws\":16,$1}" | baitfall rig - --short; echo "exit $?"; }
ask '"rig":[[[[]]]]'
ask '"rig":{"float":7}'
ask '"rig":{"float":{"rating_kg":1e400}}'
ask '"rig":{"shots":[{"size":"No 99","above_hook":"30 cm"}]}'
ask '"rig":{"shots":[{"size":"No 8","above_hook":"-5 cm"}]}'
ask '"rig":{"back_shots":[{"size":"No 10","above_float":"20 m"}]}'
ask '"rig":"a","kit":{"rigs":[{"id":"b"},{"id":"c"},{"id":"a","shots":[{"size":"No 8","above_hook":"-5 cm"}]}]}'
ask '"rig":"a","kit":{"rigs":[{"id":"a"},{"id":"a"}]}'
ask '"rig":"a","kit":{"rigs":[{"id":"a","elastic":"none such"}]}'
ask '"rig":"middle","nominal":true'

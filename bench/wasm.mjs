// Times the page's answers and the fall in wasm under node: node bench/wasm.mjs FOLDER prints "name,median_ms,per_s".
// With a plan file as well it times only that, in one thread: node bench/wasm.mjs FOLDER PLAN.
import { readFileSync } from 'node:fs';

const folder = process.argv[2];
const planFile = process.argv[3];
const RUNS = planFile ? 3 : 7;

const instantiate = async (name) =>
  (await WebAssembly.instantiate(readFileSync(`${folder}/${name}.wasm`), {})).instance.exports;

function medianMs(run) {
  run();
  const times = [];
  for (let i = 0; i < RUNS; i++) {
    const start = performance.now();
    run();
    times.push(performance.now() - start);
  }
  return times.sort((a, b) => a - b)[(RUNS - 1) / 2];
}

for (const name of planFile ? [] : ['bench', 'bench-simd']) {
  const core = await instantiate(name);
  core._initialize?.();
  const batches = 16;
  const ms = medianMs(() => core.bench_fall(batches));
  console.log(`fall,${name}.wasm,${ms.toFixed(3)},${Math.round((batches * 4096 * 1000) / ms)}`);
  for (const [rig, overdepth] of [['hanging', -0.1], ['held', 0.02]]) {
    const solves = 50;
    const each = medianMs(() => core.bench_rig(solves, overdepth)) / solves;
    console.log(`rig ${rig},${name}.wasm,${each.toFixed(3)},${Math.round(1000 / each)}`);
  }
  core.bench_believe();
  let seed = 0;
  console.log(`advice by the phone's setting,${name}.wasm,${medianMs(() => core.bench_advice(++seed)).toFixed(1)},`);
}

const requests = planFile ? { plan: JSON.parse(readFileSync(planFile, 'utf8')) } : {
  pot: { bait: 'hard-4' },
  fall: { bait: 'hard-4', water: { depth_m: 1.5 } },
  spread: { bait: 'hard-4', water: { depth_m: 1.5 }, pictures: ['above', 'side'] },
};
for (const name of ['answer', 'answer-simd']) {
  const core = await instantiate(name);
  core._initialize?.();
  const text = new TextEncoder();
  for (const [command, request] of Object.entries(requests)) {
    const head = text.encode(command);
    const body = text.encode(JSON.stringify(request));
    const ms = medianMs(() => {
      const memory = new Uint8Array(core.memory.buffer);
      memory.set(head, core.in_at());
      memory.set(body, core.in_at() + head.length);
      if (core.answer(head.length, body.length) !== 0) throw new Error(`${command} failed`);
    });
    console.log(`answer ${command},${name}.wasm,${ms.toFixed(1)},`);
  }
}

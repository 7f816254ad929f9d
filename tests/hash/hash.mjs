// The hash program in wasm: node tests/hash/hash.mjs FOLDER-OF-MODULES REQUESTS.tsv prints a line a module.
import { readFileSync } from 'node:fs';

export const MODULES = ['kernel.wasm', 'kernel-simd.wasm'];

/** The hash of all requests by one module's bytes. Also runs in a browser, so it uses nothing of node. */
export async function hashRequests(bytes, requests) {
  const { instance } = await WebAssembly.instantiate(bytes, {});
  const core = instance.exports;
  core._initialize?.();
  const text = new TextEncoder();
  let hash = core.hash_kernel();
  for (const line of requests.split('\n').filter((line) => line.includes('\t'))) {
    const [command, json] = line.split('\t').map((part) => text.encode(part));
    const at = core.hash_in_at();
    new Uint8Array(core.memory.buffer).set(command, at);
    new Uint8Array(core.memory.buffer).set(json, at + command.length);
    hash = core.hash_request(hash, command.length, json.length);
    if (hash === 0n) throw new Error(`${line}: the answer depends on how it was cut`);
  }
  return BigInt.asUintN(64, hash).toString(16).padStart(16, '0');
}

if (process.argv[1]?.endsWith('hash.mjs')) {
  const [folder, requests] = process.argv.slice(2);
  for (const module of MODULES) {
    const hash = await hashRequests(readFileSync(`${folder}/${module}`), readFileSync(requests, 'utf8'));
    console.log(`node ${module} ${hash}`);
  }
}

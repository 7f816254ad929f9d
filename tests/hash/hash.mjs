// The hash program in wasm, and with it the modules of the page: node tests/hash/hash.mjs FOLDER-OF-MODULES REQUESTS.tsv prints a line a
// kind of module.
import { readFileSync } from 'node:fs';

/** Of each kind the hash program, and the two modules that the page loads, in which less of the same is linked. */
export const KINDS = ['', '-simd'].map((kind) => ['kernel', 'answer', 'journal'].map((name) => `${name}${kind}.wasm`));

/** The hash of all requests by one kind's bytes. The page's modules must give the very answers that the hash goes over. Also runs in a
 * browser, so it uses nothing of node and nothing from outside. */
export async function hashRequests(kind, requests) {
  const text = new TextEncoder();
  const instances = await Promise.all(kind.map((bytes) => WebAssembly.instantiate(bytes, {})));
  const [kernel, answer, journal] = instances.map(({ instance }) => instance.exports);
  for (const core of [kernel, answer, journal]) core._initialize?.();

  const put = (core, at, ...parts) => {
    const memory = new Uint8Array(core.memory.buffer);
    for (const part of parts) {
      memory.set(part, at);
      at += part.length;
    }
    return parts.map((part) => part.length);
  };
  /** As kernel.h: the status and the answer's bytes, FNV-1a. */
  const folded = (hash, status, core) => {
    const out = new Uint8Array(core.memory.buffer, core.out_at(), core.out_n());
    for (const byte of [status, ...out]) hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * 0x100000001b3n);
    return hash;
  };
  const unsigned = (hash) => BigInt.asUintN(64, hash);
  if (journal.journal_room(1000, 512 << 10) !== 0) throw new Error('no room for a journal');
  const taken = (line) => journal.journal_take(...put(journal, journal.in_at(), line)) === 0;
  const said = (before, command, json) => {
    const [, question] = /^ask (.*)/.exec(command) ?? [];
    const [core, ask] = question ? [journal, journal.ask] : [answer, answer.answer];
    return folded(before, ask(...put(core, core.in_at(), text.encode(question ?? command), json)), core);
  };

  let hash = unsigned(kernel.hash_kernel());
  for (const line of requests.split('\n').filter((line) => line.includes('\t'))) {
    const [command, json] = line.split('\t');
    const before = hash;
    hash = unsigned(kernel.hash_request(before, ...put(kernel, kernel.hash_in_at(), text.encode(command), text.encode(json))));
    if (hash === 0n) throw new Error(`${line}: the answer depends on how it was cut`);
    const isSame = command === 'take' ? taken(text.encode(json)) : said(before, command, text.encode(json)) === hash;
    if (!isSame) throw new Error(`${line}: the page's module answers something else`);
  }
  return hash.toString(16).padStart(16, '0');
}

if (process.argv[1]?.endsWith('hash.mjs')) {
  const [folder, requests] = process.argv.slice(2);
  for (const kind of KINDS) {
    const hash = await hashRequests(kind.map((name) => readFileSync(`${folder}/${name}`)), readFileSync(requests, 'utf8'));
    console.log(`node ${kind.join(',')} ${hash}`);
  }
}

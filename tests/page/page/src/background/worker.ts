// The worker that computes: loads the core once, then answers one question after another.
import { load, type Core } from './core';

declare const self: DedicatedWorkerGlobalScope;
declare const CORE: string;
declare const CORE_SIMD: string;

/** A module that adds two vectors: valid only where the browser knows the SIMD instructions. */
const SIMD_PROBE = new Uint8Array([
    0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, 123, 3, 2, 1, 0, 10, 10, 1, 8, 0, 65, 0, 253, 15, 253, 98, 11,
]);

async function start(): Promise<Core> {
    const response = await fetch(WebAssembly.validate(SIMD_PROBE) ? CORE_SIMD : CORE);
    if (!response.ok) throw new Error(`${response.url}: ${response.status}`);
    return load(await response.arrayBuffer());
}

const core = start();

self.onmessage = async (event: MessageEvent<{ id: number; command: string; request: string }>) => {
    const { id, command, request } = event.data;
    try {
        self.postMessage({ id, answer: (await core).answer(command, request) });
    } catch (fault) {
        self.postMessage({ id, fault: String(fault) });
    }
};

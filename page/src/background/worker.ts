// The worker that computes: loads the core once, then answers one question after another.
import { load, type Core } from './core';
import { CORE_FILE } from './simd';

declare const self: DedicatedWorkerGlobalScope;

async function start(): Promise<Core> {
    const response = await fetch(CORE_FILE);
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

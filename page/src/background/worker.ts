// The worker that computes: loads the core once, then answers one question after another.
import { fetchCore } from './fetch';

declare const self: DedicatedWorkerGlobalScope;

export function startComputing(): void {
    const core = fetchCore();
    self.onmessage = async (event: MessageEvent<{ id: number; command: string; request: string }>) => {
        const { id, command, request } = event.data;
        try {
            self.postMessage({ id, answer: (await core).answer(command, request) });
        } catch (fault) {
            self.postMessage({ id, fault: String(fault) });
        }
    };
}

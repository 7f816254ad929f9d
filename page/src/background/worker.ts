// The worker that computes what needs no record: loads its module once (wasm/answer.c), then answers one question after another.
import { load } from './module';
import { ANSWER_FILE } from './simd';

declare const self: DedicatedWorkerGlobalScope;

interface Exports {
    answer(nCommand: number, nJson: number): number;
}

export function startComputing(): void {
    const loaded = load<Exports>(ANSWER_FILE);
    self.onmessage = async (event: MessageEvent<{ id: number; command: string; request: string }>) => {
        const { id, command, request } = event.data;
        try {
            const { core, put, out } = await loaded;
            const [nCommand, nJson] = put(command, request);
            core.answer(nCommand as number, nJson as number);
            self.postMessage({ id, answer: out() });
        } catch (fault) {
            self.postMessage({ id, fault: String(fault) });
        }
    };
}

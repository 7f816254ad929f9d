// The core as the page sees it: text in, text out. The module imports nothing; wasm/exports.c is its whole surface.

interface Exports {
    memory: WebAssembly.Memory;
    _initialize(): void;
    in_at(): number;
    in_most(): number;
    out_at(): number;
    out_n(): number;
    answer(nCommand: number, nJson: number): number;
}

export interface Core {
    /** The answer to a JSON request, or the error object, as JSON. */
    answer(command: string, request: string): string;
}

export async function load(module: ArrayBuffer): Promise<Core> {
    const { instance } = await WebAssembly.instantiate(module);
    const core = instance.exports as unknown as Exports;
    core._initialize();
    return {
        answer(command, request) {
            const words = new TextEncoder().encode(command);
            const json = new TextEncoder().encode(request);
            if (words.length + json.length > core.in_most())
                throw new Error('The request is larger than the core accepts.');
            const memory = new Uint8Array(core.memory.buffer);
            memory.set(words, core.in_at());
            memory.set(json, core.in_at() + words.length);
            core.answer(words.length, json.length);
            return new TextDecoder().decode(memory.subarray(core.out_at(), core.out_at() + core.out_n()));
        },
    };
}

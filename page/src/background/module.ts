// A module as the workers load it: text in, text out (wasm/area.h). It imports nothing.

interface Area {
    memory: WebAssembly.Memory;
    _initialize(): void;
    in_at(): number;
    in_most(): number;
    out_at(): number;
    out_n(): number;
}

export interface Loaded<Exports> {
    core: Exports & Area;
    /** Writes texts one behind the other where the module reads; returns their lengths in bytes. */
    put(...texts: string[]): number[];
    /** The text that its last function left. */
    out(): string;
}

export async function load<Exports>(file: string): Promise<Loaded<Exports>> {
    const response = await fetch(file);
    if (!response.ok) throw new Error(`${response.url}: ${response.status}`);
    const { instance } = await WebAssembly.instantiate(await response.arrayBuffer());
    const core = instance.exports as unknown as Exports & Area;
    core._initialize();
    // The memory may have grown since the last time, so it is looked at afresh.
    return {
        core,
        put(...texts) {
            const all = texts.map((text) => new TextEncoder().encode(text));
            const n = all.reduce((sum, bytes) => sum + bytes.length, 0);
            if (n > core.in_most()) throw new Error('The request is larger than the core accepts.');
            let at = core.in_at();
            for (const bytes of all) {
                new Uint8Array(core.memory.buffer).set(bytes, at);
                at += bytes.length;
            }
            return all.map((bytes) => bytes.length);
        },
        out: () => new TextDecoder().decode(new Uint8Array(core.memory.buffer, core.out_at(), core.out_n())),
    };
}

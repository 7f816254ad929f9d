// Loads the module that fits this browser.
import { load, type Core } from './core';
import { CORE_FILE } from './simd';

export async function fetchCore(): Promise<Core> {
    const response = await fetch(CORE_FILE);
    if (!response.ok) throw new Error(`${response.url}: ${response.status}`);
    return load(await response.arrayBuffer());
}

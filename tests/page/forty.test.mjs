// The forty things that the page must hold, by number, each in the titles of the tests that show it; docs/checks.md has the list.
import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { test } from 'node:test';

test('each of the forty has a test whose title begins with its number, and no number is another', async () => {
    const folder = new URL('.', import.meta.url);
    const numbers = new Set();
    for (const name of (await readdir(folder)).filter((file) => file.endsWith('.test.mjs')))
        for (const [, number] of (await readFile(new URL(name, folder), 'utf8')).matchAll(/\btest\(\s*['"`](\d+)\. /g))
            numbers.add(Number(number));
    assert.deepEqual(
        [...numbers].sort((a, b) => a - b),
        Array.from({ length: 40 }, (_, i) => i + 1),
    );
});

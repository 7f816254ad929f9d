// The forty things that the page must hold, by number, each in the titles of the tests that show it; docs/checks.md lists them.
import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { test } from 'node:test';

test('each of the forty has a test whose title begins with its number, in the files that docs/checks.md names', async () => {
    const folder = new URL('.', import.meta.url);
    const files = {};
    for (const name of (await readdir(folder)).filter((file) => file.endsWith('.test.mjs'))) {
        const source = await readFile(new URL(name, folder), 'utf8');
        for (const [, number] of source.matchAll(/\btest\(\s*['"`](\d+|\$\{number\})\. /g))
            for (const one of number === '${number}' ? [...source.matchAll(/\[(\d+), '/g)].map(([, n]) => n) : [number])
                (files[one] ??= new Set()).add(name.split('.')[0]);
    }
    assert.deepEqual(Object.keys(files), Array.from({ length: 40 }, (_, i) => String(i + 1)));
    const table = await readFile(new URL('../../docs/checks.md', import.meta.url), 'utf8');
    const rows = [...table.matchAll(/^\| (\d+) \| [^|]* \| ([^|]*) \|/gm)];
    const named = Object.fromEntries(rows.map(([, number, words]) => [number, words.match(/\w+/g).sort()]));
    assert.deepEqual(named, Object.fromEntries(Object.entries(files).map(([number, own]) => [number, [...own].sort()])));
});

// The page computes what the program computes: the same bytes, in Chromium, with SIMD or without.
//   BF_HASH  the hash that scripts/same_bits found for all native builds
import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import { MODULES, hashRequests } from '../hash/hash.mjs';
import { browser, newContext, nativeText, openQuick, pageFolder, server, useBrowser, value } from './common.mjs';

useBrowser();

/** Keeps every question and answer that goes between page and workers, as text, in window.talk. */
function keepTalk() {
    window.talk = [];
    const Real = window.Worker;
    window.Worker = class extends Real {
        constructor(...given) {
            super(...given);
            this.asked = new Map();
            this.addEventListener('message', ({ data }) =>
                window.talk.push({ ...this.asked.get(data.id), answer: data.answer }),
            );
        }
        postMessage(question) {
            this.asked.set(question.id, question);
            super.postMessage(question);
        }
    };
}

test('every answer behind the screen is the program\u2019s, byte for byte', async () => {
    const context = await newContext(browser, { viewport: { width: 360, height: 700 } });
    await context.addInitScript(keepTalk);
    const page = await context.newPage();
    await page.goto(`${server.url}#pot`);
    for (const press of [null, 'Bait after', 'Pot larger', 'Depth less', 'Don\u2019t know how warm', 'Bait after']) {
        if (press) await page.getByRole('button', { name: press, exact: true }).click();
        await page.waitForSelector('.answer[aria-busy="false"]');
    }
    const talk = (await page.evaluate(() => window.talk)).filter(({ command }) => command); // the rest is the record's
    const asked = new Set(talk.map(({ command }) => command));
    assert.deepEqual([...asked].sort(), ['catalogue', 'fall', 'form', 'pot', 'spread']);
    const drawn = talk.filter(({ answer }) => answer.includes('<svg'));
    assert.ok(drawn.length >= 6);
    for (const { command, request, answer } of talk.filter(({ command }) => !['catalogue', 'form'].includes(command)))
        assert.equal(answer, nativeText(command, JSON.parse(request)), `${command} ${request}`);
    await context.close();
});

test('what the screen shows are the program\u2019s words', async () => {
    const { context, page } = await openQuick(browser, server.url);
    assert.match(await value(page, 'Bait'), /^Hard 4 mm pellets/);
    const words = (await page.locator('[role=status]').innerText()).replaceAll('\u2013', '-').replaceAll('\u00a0', ' ');
    const said = (command, key) =>
        JSON.parse(nativeText(command, { bait: 'hard-4', pot: 'medium', water: { depth: '1.5 m', temp: '12 C' } }))[key]
            .text;
    const [pieces, time, wide] = [said('pot', 'pieces'), said('fall', 'time_s'), said('spread', 'wide_m')].map((text) =>
        /^(.*?) (\(.*\))$/.exec(text),
    );
    assert.equal(
        words,
        `About ${pieces[1]} in the pot ${pieces[2]}, ${time[1]} down ${time[2]}, 9 in 10 inside a ${wide[1]} ring ${wide[2]}.`,
    );
    await context.close();
});

test('the page carries the module with SIMD and the one without, and uses the first where it can', async () => {
    const names = (await readdir(pageFolder)).filter((name) => name.endsWith('.wasm'));
    assert.equal(names.length, 2);
    for (const name of names) {
        const module = await WebAssembly.compile(await readFile(join(pageFolder, name)));
        assert.deepEqual(WebAssembly.Module.imports(module), [], `${name} imports nothing`);
    }
    const context = await newContext(browser, { serviceWorkers: 'block' });
    const page = await context.newPage();
    const used = [];
    page.on('request', (request) => request.url().endsWith('.wasm') && used.push(request.url()));
    await page.goto(`${server.url}#pot`);
    await page.waitForSelector('.answer[aria-busy="false"]');
    assert.ok(used.length > 0 && used.every((url) => url.includes('core-simd')), used.join());
    await context.close();
});

test('the hash of all requests is the native one in Chromium too, with SIMD and without', async () => {
    const wanted = process.env.BF_HASH;
    assert.match(wanted ?? '', /^[0-9a-f]{16}$/, 'BF_HASH must be set');
    const requests = await readFile(new URL('../hash/requests.tsv', import.meta.url), 'utf8');
    const context = await newContext(browser);
    const page = await context.newPage();
    for (const module of MODULES) {
        const bytes = await readFile(join(pageFolder, '../wasm', module));
        const hash = await page.evaluate(
            async ([source, base64, text]) => {
                const hashOf = new Function(`return ${source}`)();
                return hashOf(
                    Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0)),
                    text,
                );
            },
            [hashRequests.toString(), bytes.toString('base64'), requests],
        );
        assert.equal(hash, wanted, module);
    }
    await context.close();
});

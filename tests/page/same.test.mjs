// The page computes what the program computes: the same bytes, in Chromium, with SIMD or without.
//   BF_HASH  the hash that scripts/same_bits found for all native builds
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { mkdtemp, readFile, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { promisify } from 'node:util';
import { KINDS, hashRequests } from '../hash/hash.mjs';
import { isLong, random } from './bank.mjs';
import { browser, eventually, newContext, nativeText, openQuick, pageFolder, program, server, useBrowser, value } from './common.mjs';

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

test('the page carries each module with SIMD and without, and uses the first where it can', async () => {
    const names = (await readdir(pageFolder)).filter((name) => name.endsWith('.wasm'));
    assert.deepEqual(names.map((name) => name.replace(/-[0-9a-f]+\.wasm/, '')).sort(), ['answer', 'answer-simd', 'journal', 'journal-simd']);
    for (const name of names) {
        const module = await WebAssembly.compile(await readFile(join(pageFolder, name)));
        assert.deepEqual(WebAssembly.Module.imports(module), [], `${name} imports nothing`);
    }
    const context = await newContext(browser, { serviceWorkers: 'block' });
    const page = await context.newPage();
    const used = [];
    page.on('request', (request) => request.url().endsWith('.wasm') && used.push(request.url()));
    await page.goto(`${server.url}#pot`);
    for (const name of ['answer', 'journal']) await eventually(() => used.some((url) => url.includes(`/${name}-`)));
    assert.ok(used.every((url) => url.includes('-simd-')), used.join());
    await context.close();
});

test('the hash of all requests is the native one in Chromium too, with SIMD and without; the page\u2019s modules give the answers that it goes over', async () => {
    const wanted = process.env.BF_HASH;
    assert.match(wanted ?? '', /^[0-9a-f]{16}$/, 'BF_HASH must be set');
    const requests = await readFile(new URL('../hash/requests.tsv', import.meta.url), 'utf8');
    const context = await newContext(browser);
    const page = await context.newPage();
    for (const kind of KINDS) {
        const modules = await Promise.all(kind.map((name) => readFile(join(pageFolder, '../wasm', name), 'base64')));
        const hash = await page.evaluate(
            async ([source, modules, text]) => {
                const hashOf = new Function(`return ${source}`)();
                const bytesOf = (base64) => Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
                return hashOf(modules.map(bytesOf), text);
            },
            [hashRequests.toString(), modules, requests],
        );
        assert.equal(hash, wanted, kind.join());
    }
    await context.close();
});

/** A plan made up by its number: one or two spots, a rig each, what goes in and when. */
function madeUpPlan(chance) {
    const from = (least, most, step) => Number((least + step * Math.floor((chance() * (most - least)) / step + chance())).toFixed(3));
    const one = (choices) => choices[Math.floor(chance() * choices.length)];
    const soft = { form: 'cylinder', state: 'soaked', diameter_m: 0.0024 };
    const spots = [
        { id: 'long', distance_m: from(9, 13, 0.5), depth_m: from(1.2, 2.6, 0.01), slope_deg: from(0, 8, 1) },
        { id: 'short', distance_m: from(4, 6, 0.5), depth_m: from(0.8, 1.6, 0.01) },
    ].slice(0, chance() < 0.3 ? 2 : 1);
    return {
        schema: 1,
        name: 'made up',
        draws: 16,
        seed: Math.floor(chance() * 1e6),
        water: { temp_c: from(6, 22, 0.5), wind_m_s: from(0, 6, 0.5), wind_side_deg: from(0, 350, 10) },
        kit: { baits: [{ id: 'soft two', ...soft, length_m: from(0.0024, 0.0034, 1e-4), density_kg_m3: from(1080, 1160, 10) }] },
        spots: spots.map((spot) => ({ ...spot, bottom: one(['silt', 'clay', 'gravel']), pot: one(['small', 'medium', 'large']) })),
        feed: spots.flatMap(({ id }) => [
            { spot: id, bait: 'soft two', how: one(['clump', 'sprinkle']) },
            { spot: id, bait: one(['hard-4', 'hard-6']), count: from(6, 30, 1), how: 'clump', from_s: from(600, 1800, 60), every_s: 600 },
        ]),
        session: { starts: '2026-04-12T09:00:00+01:00', hours: from(3, 6, 0.5) },
    };
}

/** A session made up by its number: twenty to fifty minutes of pots, drops and what came of them. Its lines, its id, and an instant in it. */
function madeUpJournal(chance, number) {
    const id = (i) => (BigInt(number + 1) * 0x10000n + BigInt(i)).toString(16).padStart(32, '0');
    const start = Date.UTC(2026, 3, 12, 8);
    const spots = ['long', 'short'].slice(0, chance() < 0.3 ? 2 : 1);
    const pick = (n) => Math.floor(chance() * n);
    const one = (choices) => choices[pick(choices.length)];
    const entries = [
        [0, 'open', { venue: 'Withy Pool (invented)', peg: '14', hook_bait: 'hard-6', hours: 4 }],
        [5, 'water', { temp_c: 8 + pick(12), wind_m_s: pick(6) }],
        ...spots.map((spot, i) => [10 + i, 'plumb', { spot, distance_m: 11.5 - 6 * i, depth_m: 1.3 + pick(50) / 100, bottom: 'silt' }]),
    ];
    const until = 1200 + pick(1800);
    for (let s = 60; s < until; ) {
        const spot = one(spots);
        const feed = { spot, bait: one(['hard-4', 'hard-6']), count: 5 + pick(40), how: one(['clump', 'sprinkle']) };
        if (entries.length % 7 === 4) entries.push([s, 'feed', feed]);
        entries.push([s + 20, 'lower', { spot, hook_bait: 'hard-6' }]);
        s += 60 + pick(200);
        entries.push([s, 'lift', { outcome: one(['nothing', 'nothing', 'landed', 'missed', 'lost']) }]);
        s += 30;
    }
    const at = (s) => new Date(start + 1000 * s).toISOString().replace('Z', '+00:00');
    const lines = entries.map(([s, kind, body], i) =>
        JSON.stringify({ v: 1, id: id(i), session: id(0), dev: '0badcafe', run: '00000001', seq: 1 + i, kind, at: at(s), pm_s: 5, rec: at(s), body }),
    );
    return { lines, session: id(0), at: at(until + 60) };
}

/** Asks the page's own workers, of a page that is open: a plan, and a journal of the belief's. */
async function askWorkers([file, plan, lines, request]) {
    const worker = (name) => {
        const at = new Worker(file, { name });
        let id = 0;
        const ask = (message) =>
            new Promise((resolve, reject) => {
                at.onmessage = ({ data }) => (data.fault ? reject(new Error(data.fault)) : resolve(data.answer));
                at.onerror = ({ message: fault }) => reject(new Error(fault));
                at.postMessage({ id: ++id, ...message });
            });
        return { ask, end: () => at.terminate() };
    };
    const [computing, belief] = [worker(''), worker('belief')];
    const said = { plan: await computing.ask({ command: 'plan', request: plan }) };
    await belief.ask({ lines });
    for (const question of ['bed', 'next']) said[question] = await belief.ask({ question, request, spot: 'long' });
    computing.end();
    belief.end();
    return said;
}

const N_MADE_UP = isLong ? 50 : 8;
test(`a plan, a bed and an advice of ${N_MADE_UP} made-up plans and journals: the page\u2019s workers say the program\u2019s bytes`, async (t) => {
    const folder = await mkdtemp(join(tmpdir(), 'baitfall-same-'));
    t.after(() => rm(folder, { recursive: true }));
    const env = { ...process.env, HOME: folder, XDG_DATA_HOME: folder, XDG_CACHE_HOME: folder, XDG_CONFIG_HOME: folder, TZ: 'UTC' };
    const programs = async (...words) => {
        // 1: a box is short, which is an answer too
        const run = promisify(execFile)(program, [...words, '--json'], { env, maxBuffer: 1 << 26 });
        const { stdout } = await run.catch((fault) => (fault.code === 1 ? fault : Promise.reject(fault)));
        return stdout.trimEnd();
    };
    const context = await newContext(browser);
    const page = await context.newPage();
    await page.goto(server.url);
    const workers = (await readdir(pageFolder)).find((name) => /^workers-[0-9a-f]+\.js$/.test(name));
    const answers = new Set();
    for (let number = 0; number < N_MADE_UP; number++) {
        const chance = random(number);
        const plan = JSON.stringify(madeUpPlan(chance));
        const { lines, session, at } = madeUpJournal(chance, number);
        const [planFile, journal] = [join(folder, `${number}.plan.json`), join(folder, `${number}.jsonl`)];
        await writeFile(planFile, plan);
        await writeFile(journal, lines.map((line) => `${line}\n`).join(''));
        const asked = [journal, '--session', session, '--at', at, '--spot', 'long'];
        const [said, ofPlan, ofBed, ofNext] = await Promise.all([
            page.evaluate(askWorkers, [workers, plan, lines, { session, at, spot: 'long' }]),
            programs('plan', planFile),
            programs('bed', ...asked),
            programs('next', ...asked),
        ]);
        assert.deepEqual(said, { plan: ofPlan, bed: ofBed, next: ofNext }, `number ${number}`);
        for (const text of Object.values(said)) answers.add(text);
    }
    assert.equal(answers.size, 3 * N_MADE_UP, 'each is an answer of its own');
    assert.ok([...answers].every((text) => !text.includes('"error"')));
    await context.close();
});

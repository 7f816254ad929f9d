// Nothing that was counted is ever lost: reload, crash, kill, a full disk, a store that does not open, two windows.
//   BF_LONG=1  a hundred crashes of the page instead of five, a hundred kills of the browser instead of ten
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { after, test } from 'node:test';
import { OUTCOMES, askCore, control, count, counted, counts, isLong, kept, keptN, key, openBank, openPage, press, startSession, stopClock } from './bank.mjs';
import { UNADVISED } from './bed.mjs';
import { CHROMIUM, HUNG_MS, browser, chromium, server, until, useBrowser } from './common.mjs';
import { storeOf } from './copies.mjs';
import { stateIn } from './log.mjs';

useBrowser();

const PRESSES = [...OUTCOMES, 'feed', 'rig'];

test('2. a whole session without a connection: 200 mixed presses are 200 events, and nothing is asked of any network', async () => {
    const { context, page, faults } = await openPage(browser, { hasClock: true, serviceWorkers: 'allow' });
    await page.goto(server.url);
    await page.getByText(/^Ready offline: yes/).waitFor();
    await context.setOffline(true);
    const asked = [];
    page.on('request', (request) => request.url().startsWith('blob:') || asked.push(request.url()));
    await startSession(page, server.url);
    await until(page, () => navigator.serviceWorker.controller !== null && !/working/.test(document.querySelector('.next-line').innerText));
    asked.length = 0; // by now the worker of the advice has its files
    for (let i = 0; i < 200; i++) await key(page, PRESSES[(i * 5 + (i >> 3)) % PRESSES.length]);
    const events = await keptN(page, 201);
    assert.equal(events.length, 201); // and the `open`
    assert.equal(new Set(events.map(({ id }) => id)).size, 201);
    assert.deepEqual([...new Set(events.map(({ session }) => session))], [events[0].id]);
    assert.deepEqual(asked, []);
    assert.deepEqual(faults, []);
    await context.close();
});

test('a line has the members of the journal in their order, and the core takes it as it is', async () => {
    const { context, page } = await openBank(browser, server.url, { hasClock: true, ...UNADVISED });
    await stopClock(page); // the strip stays until it is pressed
    await press(page, 'rig');
    await press(page, 'fish');
    await page.getByRole('group', { name: 'Which fish' }).getByRole('button').first().click();
    await press(page, 'feed');
    const events = await keptN(page, 5);
    assert.deepEqual(
        events.map(({ kind, body }) => [kind, Object.keys(body)]),
        [
            ['open', ['venue', 'peg']],
            ['lower', []],
            ['lift', ['outcome']],
            ['fix', ['species']],
            ['feed', ['bait', 'fill_frac', 'pot_m3', 'how']],
        ],
    );
    for (const event of events) {
        const keys = ['v', 'id', 'session', 'dev', 'run', 'seq', 'mono_ms', 'kind', 'at', 'pm_s', 'rec'];
        assert.deepEqual(Object.keys(event), [...keys, ...(event.kind === 'fix' ? ['of'] : []), 'body']);
        assert.match(event.id, /^[0-9a-f]{32}$/);
        assert.match(event.dev, /^[0-9a-f]{8}$/);
        assert.match(event.at, /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}[+-]\d\d:\d\d$/);
    }
    assert.deepEqual(events.map(({ seq }) => seq), [1, 2, 3, 4, 5]);
    const bank = await askCore(events, 'bank', { now: events.at(-1).at, dev: events[0].dev });
    assert.equal(bank.session.peg, '14');
    assert.equal(bank.counts.fish, 1);
    await context.close();
});

test('3. reloaded in the middle: back on the Bank, the same session, the counts, and what was crossed out', async () => {
    const { context, page, faults } = await openBank(browser, server.url, { hasClock: true });
    for (let i = 0; i < 30; i++) await press(page, OUTCOMES[i % 6]);
    await counted(page, 'nothing', 5);
    await press(page, 'undo');
    await counted(page, 'nothing', 4);
    const before = await counts(page);
    const strip = await page.locator('.undo-two').innerText();
    const events = await keptN(page, 32);
    await page.goto(server.url); // as from the home screen: the first look gives way to the Bank
    await page.waitForSelector('.outcomes');
    assert.equal(await page.evaluate(() => location.hash), '#bank');
    assert.deepEqual(await counts(page), before);
    assert.equal(await page.locator('.undo-two').innerText(), strip);
    await press(page, 'back');
    await counted(page, 'nothing', 5);
    const later = await keptN(page, 33);
    assert.deepEqual(later.slice(0, 32), events);
    assert.equal(later[32].session, events[0].id);
    assert.equal(later[32].dev, events[0].dev);
    assert.notEqual(later[32].run, events[0].run);
    assert.deepEqual(faults, []);
    await context.close();
});

test('6. a press counts only once it is stored: stalled, it says "saving", and a crash leaves no half of it', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'missed');
    await counted(page, 'missed', 1);
    // Another transaction has the store and does not let go of it.
    await page.evaluate(
        () =>
            new Promise((resolve) => {
                indexedDB.open('baitfall').onsuccess = ({ target }) => {
                    const store = target.result.transaction('events', 'readwrite').objectStore('events');
                    const spin = () => (store.count().onsuccess = spin);
                    spin();
                    resolve();
                };
            }),
    );
    await press(page, 'missed');
    await page.getByText('saving').waitFor();
    assert.equal(await count(page, 'missed'), 1);
    const cdp = await context.newCDPSession(page);
    void cdp.send('Page.crash').catch(() => undefined);
    await page.waitForEvent('crash');
    const next = await context.newPage();
    await next.goto(server.url);
    await next.waitForSelector('.outcomes');
    assert.equal(await count(next, 'missed'), 1);
    assert.deepEqual((await kept(next)).map(({ kind }) => kind), ['open', 'lift']);
    await context.close();
});

const CRASHES = isLong ? 100 : 5;
test(`4. the page crashed ${CRASHES} times right after a press that counted: every one is there`, async () => {
    const { context, page } = await openBank(browser, server.url);
    let at = page;
    for (let i = 1; i <= CRASHES; i++) {
        await press(at, 'missed');
        await counted(at, 'missed', i);
        const cdp = await context.newCDPSession(at);
        const crash = at.waitForEvent('crash');
        void cdp.send('Page.crash').catch(() => undefined);
        await crash;
        at = await context.newPage();
        await at.goto(server.url);
        await at.waitForSelector('.outcomes');
        assert.equal(await count(at, 'missed'), i);
    }
    assert.equal((await kept(at)).length, CRASHES + 1);
    await context.close();
});

/** A browser of our own to kill: its process is the one started here. */
async function startBrowser(profile) {
    const child = spawn(
        CHROMIUM.executablePath,
        [...CHROMIUM.args, `--user-data-dir=${profile}`, '--remote-debugging-port=0', 'about:blank'],
        { stdio: ['ignore', 'ignore', 'pipe'] },
    );
    const ended = new Promise((resolve) => child.once('exit', resolve));
    const address = await new Promise((resolve, reject) => {
        ended.then((code) => reject(new Error(`the browser ended with ${code}`)));
        createInterface({ input: child.stderr }).on('line', (line) => {
            const found = /ws:\/\/\S+/.exec(line);
            if (found) resolve(found[0]);
        });
    });
    const connected = await chromium.connectOverCDP(address, { timeout: HUNG_MS });
    connected.contexts()[0].setDefaultTimeout(HUNG_MS);
    const kill = async () => {
        child.kill('SIGKILL');
        await ended;
        await connected.close().catch(() => undefined); // it is gone already
    };
    return { context: connected.contexts()[0], kill };
}

/** Kills the browser so many times, each right after a press that counted; how many presses were not found afterwards. */
async function killed(times, profile) {
    let lost = 0;
    for (let i = 0; i <= times; i++) {
        const { context, kill } = await startBrowser(profile);
        const page = context.pages()[0] ?? (await context.newPage());
        if (i === 0) await startSession(page, server.url);
        else {
            await page.goto(server.url);
            await page.waitForSelector('.outcomes');
        }
        const found = await counts(page);
        lost += Math.max(0, i - Object.values(found).reduce((a, b) => a + b, 0));
        if (i === times) {
            const events = await kept(page);
            assert.equal(events.length, times + 1);
            assert.equal(new Set(events.map(({ dev }) => dev)).size, 1);
        } else {
            const name = OUTCOMES[i % 5]; // a touch and the like each count for themselves
            await press(page, name);
            await counted(page, name, found[name] + 1);
        }
        await kill();
    }
    return lost;
}

const KILLS = isLong ? 100 : 10;
test(`5. the browser killed ${KILLS} times right after a press that counted: every one is there`, async (t) => {
    const profiles = await Promise.all([1, 2].map(() => mkdtemp(join(tmpdir(), 'baitfall-kill-'))));
    for (const profile of profiles) t.after(() => rm(profile, { recursive: true, maxRetries: 10, retryDelay: 200 }));
    assert.deepEqual(await Promise.all(profiles.map((profile) => killed(KILLS / 2, profile))), [0, 0]);
});

const heldLines = async (page) => {
    await press(page, 'held');
    assert.match(await page.locator('.held').innerText(), /NOT SAVED: \d+ taps? held/);
    await page.getByRole('button', { name: 'Copy out' }).click();
    const text = await page.getByLabel('What is held, one line each').inputValue();
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    return text.trimEnd().split('\n').map((line) => JSON.parse(line));
};

test('7. a full disk: NOT SAVED in words, held presses are named and can be copied out, and save themselves in order', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'missed');
    await counted(page, 'missed', 1);
    // Chromium counts a write against the quota of the origin only in large steps, so the write itself is made to fail
    // as a full disk makes it fail: the transaction aborts with QuotaExceededError.
    await page.evaluate(() => {
        const real = IDBObjectStore.prototype.put;
        window.freeDisk = () => (IDBObjectStore.prototype.put = real);
        IDBObjectStore.prototype.put = function () {
            throw new DOMException('The disk is full.', 'QuotaExceededError');
        };
    });
    for (const name of ['lost', 'missed', 'foul', 'touch', 'missed']) {
        await press(page, name);
    }
    await page.getByText('NOT SAVED: 5 taps held').waitFor();
    assert.equal(await count(page, 'missed'), 1); // stored ones only
    assert.equal(await control(page, 'missed').locator('.plus').innerText(), '+2');
    assert.equal((await kept(page)).length, 2);
    const held = await heldLines(page);
    assert.deepEqual(held.map(({ kind, body }) => body.outcome ?? kind), ['lost', 'missed', 'foul', 'touch', 'missed']);
    await page.evaluate(() => window.freeDisk());
    await counted(page, 'missed', 3);
    await page.getByText('NOT SAVED').waitFor({ state: 'detached' });
    const events = await kept(page);
    assert.deepEqual(events.slice(2), held);
    assert.deepEqual(await counts(page), { fish: 0, missed: 3, lost: 1, touch: 1, foul: 1, nothing: 0 });
    await context.close();
});

for (const [words, spoil] of [
    ['fails with AbortError', (request) => Object.defineProperty(request, 'spoilt', { value: 'AbortError' })],
    ['fails with InvalidStateError', (request) => Object.defineProperty(request, 'spoilt', { value: 'InvalidStateError' })],
    ['is blocked', (request) => Object.defineProperty(request, 'spoilt', { value: 'blocked' })],
])
    test(`8. opening the store ${words}: the page logs to memory and says so, and a later try saves everything`, async () => {
        const name = spoil({}).spoilt;
        const spoilOpen = `
            const real = IDBFactory.prototype.open;
            window.mend = () => (IDBFactory.prototype.open = real);
            IDBFactory.prototype.open = function (...given) {
                if ('${name}' !== 'blocked') throw new DOMException('It does not open.', '${name}');
                const request = real.call(this, 'another', 1);
                queueMicrotask(() => request.dispatchEvent(new IDBVersionChangeEvent('blocked', { oldVersion: 1, newVersion: 2 })));
                return request;
            };`;
        const { context, page } = await openPage(browser, { scripts: [spoilOpen] });
        await startSession(page, server.url);
        for (const button of ['missed', 'fish', 'feed']) await press(page, button);
        await page.getByText('NOT SAVED: 4 taps held').waitFor();
        assert.equal(await control(page, 'missed').locator('.plus').innerText(), '+1');
        const held = await heldLines(page);
        assert.deepEqual(held.map(({ kind }) => kind), ['open', 'lift', 'lift', 'feed']);
        await press(page, 'held');
        await page.getByRole('button', { name: 'Try again' }).evaluate((retry) => {
            window.mend();
            retry.click();
        });
        await counted(page, 'missed', 1);
        assert.deepEqual(await kept(page), held);
        await page.goto('about:blank');
        await context.close();
    });

test('8. held when the page crashes: what the store did not take is there at the next start, in order and once', async () => {
    const spoilOpen = `
        const real = IDBFactory.prototype.open;
        IDBFactory.prototype.open = function (...given) {
            if (!localStorage['mended']) throw new DOMException('It does not open.', 'InvalidStateError');
            return real.apply(this, given);
        };`;
    const { context, page } = await openPage(browser, { scripts: [spoilOpen] });
    await startSession(page, server.url);
    for (const button of ['missed', 'fish', 'feed']) await press(page, button);
    await page.getByText('NOT SAVED: 4 taps held').waitFor();
    const held = await heldLines(page);
    const crash = async (at) => {
        const cdp = await context.newCDPSession(at);
        const crashed = at.waitForEvent('crash');
        void cdp.send('Page.crash').catch(() => undefined);
        await crashed;
        return context.newPage();
    };
    let at = await crash(page);
    await at.goto(server.url); // it does not open now either: they are held again
    await at.getByText('NOT SAVED: 4 taps held').waitFor();
    await press(at, 'lost');
    await at.getByText('NOT SAVED: 5 taps held').waitFor();
    await at.evaluate(() => (localStorage['mended'] = 'yes'));
    at = await crash(at);
    await at.goto(server.url);
    await at.waitForSelector('.outcomes');
    const events = await keptN(at, 5);
    assert.deepEqual(events.slice(0, 4), held);
    assert.equal(events[4].body.outcome, 'lost');
    assert.deepEqual(await counts(at), { fish: 1, missed: 1, lost: 1, touch: 0, foul: 0, nothing: 0 });
    await until(at, () => Object.keys(localStorage).every((key) => !key.startsWith('baitfall.held')));
    await context.close();
});

test('17. two windows, fifty presses each, interleaved: both show a hundred within a second, and undo takes its own last', async () => {
    const { context, page: one } = await openBank(browser, server.url, { hasClock: true });
    const two = await context.newPage();
    await two.goto(server.url);
    await two.waitForSelector('.outcomes');
    for (let i = 0; i < 50; i++)
        await Promise.all([key(one, OUTCOMES[i % 6]), key(two, OUTCOMES[(i + 3) % 6])]);
    await stopClock(one); // in a second, by the clock of both; from then on it stands
    const isWhole = () => [...document.querySelectorAll('.outcomes .c')].reduce((n, one) => n + Number(one.innerText), 0) === 100;
    await until(one, isWhole);
    await until(two, isWhole);
    await one.clock.resume();
    const events = await kept(one);
    assert.equal(events.length, 101);
    assert.equal(new Set(events.map(({ id }) => id)).size, 101);
    assert.equal(new Set(events.map(({ run }) => run)).size, 2);

    const missed = await count(two, 'missed');
    await press(one, 'missed');
    await counted(two, 'missed', missed + 1);
    const foul = await count(two, 'foul');
    await press(two, 'foul');
    await counted(one, 'foul', foul + 1);
    await counted(two, 'foul', foul + 1);
    await press(two, 'undo');
    await counted(two, 'foul', foul);
    await counted(one, 'foul', foul);
    const crosses = (await kept(one)).filter(({ kind }) => kind === 'cross');
    assert.equal(crosses.length, 1);
    await context.close();
});

test('11. an older schema is exported in full before it is migrated, and the journal says the same', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'missed');
    await counted(page, 'missed', 1);
    const events = await kept(page);
    await page.goto(`${server.url}#pot`);
    // The store's own code with one step more than it has today, in a page that holds today's data.
    const require = createRequire(new URL('../../page/package.json', import.meta.url));
    const { build } = require('esbuild');
    const source = `import { STEPS, EXPORTS, Store } from './store';
        window.migrate = async () => {
            const store = new Store([...STEPS, (database) => database.createObjectStore('drafts2')]);
            const lines = await store.lines();
            const exported = await (await (await caches.open(EXPORTS)).match('journal-schema-1.jsonl')).text();
            let refusal = '';
            await new Store().lines().catch((fault) => (refusal = fault.message));
            return { lines, exported, refusal };
        };`;
    const { outputFiles } = await build({
        stdin: { contents: source, resolveDir: new URL('../../page/src/record', import.meta.url).pathname, loader: 'ts' },
        bundle: true,
        format: 'iife',
        write: false,
    });
    const other = await context.newPage();
    await page.close();
    await other.goto(`${server.url}manifest-is-not-here`).catch(() => undefined);
    await other.evaluate(outputFiles[0].text);
    const { lines, exported, refusal } = await other.evaluate(() => window.migrate());
    const sorted = (all) => all.map((line) => JSON.parse(line)).sort((a, b) => a.seq - b.seq);
    assert.deepEqual(sorted(exported.trimEnd().split('\n')), events);
    assert.deepEqual(sorted(lines), events);
    assert.match(refusal, /newer Baitfall/);
    await context.close();
});

/** What lay in the browser of a page of that day, driven by hand and dumped: each of the shapes that the one schema has held. `state`
 * is what the core of that day made of the events. */
const STORES = ['schema-1-first.json', 'schema-1-0.4.0.json'];
for (const name of STORES)
    test(`11. the store of an older page, ${name}: the session goes on, the journal says the same, and nothing that was kept is lost`, async () => {
        const old = JSON.parse(await readFile(new URL(`../data/store/${name}`, import.meta.url), 'utf8'));
        const { context, page, faults } = await openPage(browser, { time: '2026-04-12T09:40:00+01:00', timezoneId: 'Europe/London' });
        await page.goto(`${server.url}not-here`); // of the same origin, and no page of ours
        await page.evaluate(
            ({ schema, events, meta, drafts, settings }) =>
                new Promise((resolve, reject) => {
                    for (const [key, text] of Object.entries(settings)) localStorage.setItem(key, text);
                    const opening = indexedDB.open('baitfall', schema);
                    opening.onerror = () => reject(opening.error);
                    opening.onupgradeneeded = ({ target: { result: database } }) => {
                        const store = database.createObjectStore('events', { keyPath: 'key' });
                        for (const line of events) store.put({ key: JSON.parse(line).id, line });
                        for (const [kind, things] of Object.entries({ meta, drafts })) {
                            const own = database.createObjectStore(kind);
                            for (const [key, value] of Object.entries(things)) own.put(value, key);
                        }
                    };
                    opening.onsuccess = () => resolve(opening.result.close());
                }),
            old,
        );
        faults.length = 0; // that there is no such page
        await page.goto(server.url);
        await page.waitForSelector('.outcomes'); // the session is open
        const without = (...keys) => (one) => Object.fromEntries(Object.entries(one).filter(([key]) => !keys.includes(key)));
        /** But for words, which may be put better since. */
        const facts = ({ nets, rows, last_feed, ...rest }) =>
            without('fed')({ ...rest, nets: nets.map(without('text')), rows: rows.map(without('detail')), last_feed: without('detail', 'what', 'text')(last_feed) });
        const state = async () => (await stateIn(page)).map(facts);
        assert.deepEqual(await state(), old.state.map(facts));
        assert.deepEqual(await counts(page), old.state[0].counts);
        for (const route of ['log', 'review', 'typeup', 'plan', 'copies']) {
            await page.evaluate((word) => (location.hash = word), route);
            await page.waitForSelector(`.tabs`);
        }
        await page.waitForSelector('.ready table');
        const now = await storeOf(page);
        assert.deepEqual(now.events.sort(), old.events.sort());
        for (const kind of ['meta', 'drafts', 'settings'])
            for (const [key, value] of Object.entries(old[kind]))
                if (`${kind} ${key}` !== 'meta next') assert.deepEqual(now[kind][key], value, `${kind} ${key}`);
        // The last advice gives way once the Bank has looked again.
        if (old.meta.next && now.meta.next.answer.at === old.meta.next.answer.at) assert.deepEqual(now.meta.next, old.meta.next);
        else if (old.meta.next) assert.ok(Date.parse(now.meta.next.answer.at) > Date.parse(old.meta.next.answer.at));
        await page.evaluate(() => (location.hash = 'bank'));
        await press(page, 'missed');
        await counted(page, 'missed', old.state[0].counts.missed + 1);
        const last = (await kept(page)).at(-1);
        assert.deepEqual([last.session, last.dev], [old.state[0].session, old.meta.dev]);
        assert.deepEqual(faults, []);
        await context.close();
    });

test('9. storage that lasts is asked for when the session starts, whatever the browser answers', async () => {
    const stub = `self.asked = 0;
        const answer = eval(localStorage['answer']);
        if (navigator.storage) navigator.storage.persist = answer && (() => (self.asked++, answer()));`;
    const { context, page, faults } = await openPage(browser, { scripts: [stub] });
    await page.goto(server.url);
    for (const answer of ['async () => true', 'async () => false', 'async () => { throw new Error("no") }', 'undefined']) {
        await page.evaluate((text) => (localStorage['answer'] = text), answer);
        await page.reload();
        await page.waitForSelector('main');
        assert.equal(await page.evaluate(() => self.asked), 0);
        await startSession(page, server.url);
        assert.equal(await page.evaluate(() => self.asked), answer === 'undefined' ? 0 : 1);
        await press(page, 'undo'); // the start is crossed out
        await page.waitForSelector('.jobs');
    }
    assert.deepEqual(faults, []);
    await context.close();
});

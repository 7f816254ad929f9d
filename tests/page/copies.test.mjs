// Copies: nothing is in one browser only unless the screen says so; files of other devices add and never take away; what is not
// ready is named.
//   BF_LONG=1  ten thousand events there and back instead of eight hundred
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { askCore, isLong, kept, keptN, openBank, press, random, seed, session } from './bank.mjs';
import { LOOKS, browser, eventually, program, server, useBrowser } from './common.mjs';
import { HOSTILE, choose, countsOf, download, joinFile, keepIn, randomJournal, readCsv, storeOf, textOf } from './copies.mjs';
import { SIZES, button, dayOf, openScreen, show, standsWell, stateIn, stateOf } from './log.mjs';
import { wear } from './looks.mjs';
import { loadCore } from './plan.mjs';

useBrowser();

const DAY = 86_400;
/** Three closed days of two devices, made up for the tests. */
const DAYS = [1, 2, 3].map((k) =>
    session([...dayOf(k, 60), ['close']], { step: 90, ago: k * DAY, first: k * 1000, dev: k === 2 ? '0000beef' : '0badcafe' }),
);
const byId = (a, b) => (a.id < b.id ? -1 : 1);
const parsed = (text) => text.trimEnd().split('\n').map((line) => JSON.parse(line));

test('a copy holds every entry as it lies there, and what is not in one is counted', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'fish');
    await press(page, 'missed');
    await keptN(page, 3);
    await show(page, server.url, 'review');
    await page.getByText('3 entries not yet copied out.').waitFor();
    await button(page, 'Copies').click();
    const { name, text } = await download(page, 'Save a copy now');
    assert.match(name, /^\d{4}-\d\d-\d\dT\d{4}\.journal\.jsonl$/);
    assert.deepEqual(parsed(text).sort(byId), (await kept(page)).sort(byId));
    await page.getByText('Every entry is in a copy.').waitFor();
    await show(page, server.url, 'bank');
    await page.waitForSelector('.outcomes');
    await press(page, 'lost');
    await keptN(page, 4);
    await show(page, server.url, 'copies');
    await page.getByText('1 entry not yet copied out.').waitFor();
    await context.close();
});

test('on a phone the copy goes to the share sheet, as plain text where that takes no journals; put away, it counts as no copy', async () => {
    const SHARE = `
        self.shared = [];
        navigator.canShare = ({ files }) => files.every(({ type }) => type === 'text/plain');
        navigator.share = async ({ files }) => {
            if (self.isPutAway) throw new DOMException('put away', 'AbortError');
            self.shared.push({ name: files[0].name, text: await files[0].text() });
        };`;
    const { context, page } = await openScreen(browser, server.url, 'copies', { lines: DAYS[0], scripts: [SHARE], hasTouch: true, isMobile: true });
    const left = page.getByText(`${DAYS[0].length} entries not yet copied out.`);
    await left.waitFor();
    await page.evaluate(() => (self.isPutAway = true));
    await button(page, 'Save a copy now').click();
    await page.getByText('Not saved: the share sheet was put away.').waitFor();
    assert.ok(await left.isVisible());
    await page.evaluate(() => (self.isPutAway = false));
    await button(page, 'Save a copy now').click();
    await page.getByText('Every entry is in a copy.').waitFor();
    const [{ name, text }, ...more] = await page.evaluate(() => self.shared);
    assert.deepEqual(more, []);
    assert.match(name, /\.journal\.jsonl\.txt$/);
    assert.deepEqual(text.trimEnd().split('\n').sort(), [...DAYS[0]].sort());
    await context.close();
});

test('9. whether the browser keeps its storage, for each of its answers, true, false, absent and throwing, in words', async () => {
    const SAID = {
        'async () => true': 'yes',
        'async () => false': 'not promised',
        'undefined': 'cannot be asked for here',
        'async () => { throw new Error("no") }': 'could not be asked for',
    };
    const stub = `if (navigator.storage) navigator.storage.persisted = navigator.storage.persist = eval(localStorage['answer']);`;
    const { context, page, faults } = await openScreen(browser, server.url, 'copies', { scripts: [stub] });
    for (const [answer, words] of Object.entries(SAID)) {
        await page.evaluate((text) => (localStorage['answer'] = text), answer);
        await show(page, server.url, 'copies');
        const row = page.locator('.ready tr', { hasText: 'Storage kept by this browser' }).locator('td');
        await row.waitFor();
        assert.equal(await row.innerText(), words);
        const caution = page.getByText('Storage not promised: save a copy at the end of each session.');
        assert.equal(await caution.count(), words === 'yes' ? 0 : 1);
        const ask = button(page, 'Ask for storage that is kept');
        assert.equal(await ask.count(), words === 'not promised' ? 1 : 0);
        if (words !== 'not promised') continue;
        await page.evaluate(() => (navigator.storage.persist = async () => true));
        await ask.click();
        await caution.waitFor({ state: 'detached' });
        assert.equal(await row.innerText(), 'yes');
    }
    assert.deepEqual(faults, []);
    await context.close();
});

test('12. ready for the bank: with one file of the page missing it is not, and the file is named', async () => {
    const LOW = `navigator.getBattery = async () => Object.assign(new EventTarget(), { level: 0.4, charging: false, dischargingTime: 9000 });`;
    const { context, page } = await openScreen(browser, server.url, 'copies', { serviceWorkers: 'allow', scripts: [LOW] });
    const verdict = page.locator('.ready .lead');
    await eventually(async () => {
        await show(page, server.url, 'copies'); // from the second start on the window runs from what is kept
        await verdict.waitFor();
        return (await verdict.innerText()) === 'Ready.';
    });
    await page.getByText(/^Charge it: /).waitFor();
    const removed = await page.evaluate(async () => {
        const cache = await caches.open((await caches.keys()).find((name) => name.startsWith('baitfall-')));
        const wasm = (await cache.keys()).find((request) => request.url.endsWith('.wasm'));
        await cache.delete(wasm);
        return wasm.url.split('/').pop();
    });
    await page.reload();
    await verdict.waitFor();
    assert.equal(await verdict.innerText(), 'Not ready. Missing: opens with no signal.');
    assert.match(await page.locator('.ready .missing').innerText(), new RegExp(`no\\. Not kept: ${removed}\\.`));
    // An entry that is in no copy is missing too.
    await seed(page, DAYS[0]);
    await show(page, server.url, 'copies');
    await verdict.waitFor();
    assert.equal(await verdict.innerText(), 'Not ready. Missing: opens with no signal; a copy of every entry.');
    await context.close();
});

test('8. a record that does not open: Copies says so, and does not say that nothing was entered', async () => {
    const FAILS = `IDBFactory.prototype.open = () => { throw new DOMException('It does not open.', 'InvalidStateError'); };`;
    const { context, page } = await openScreen(browser, server.url, 'copies', { scripts: [FAILS] });
    await page.getByText('The record did not open.').waitFor();
    assert.match(await page.locator('.ready .lead').innerText(), /^Not ready\. Missing: .*the record opens; a copy of every entry\.$/);
    assert.equal(await page.getByText('Nothing entered yet.').count(), 0);
    assert.ok(await button(page, 'Save a copy now').isDisabled());
    await context.close();
});

test('31. a file is counted first: new, known, clashes, not understood, and what is no entry, by number; joined, taken out and put back, the journal says the same', async () => {
    const { context, page } = await openScreen(browser, server.url, 'copies', { lines: DAYS[0] });
    const before = await stateIn(page);
    const newer = { ...JSON.parse(DAYS[0][3]), id: 'd'.repeat(32), v: 2, kind: 'hum', body: { hum: 3 } };
    const clash = JSON.stringify({ ...JSON.parse(DAYS[0][2]), body: { spot: 'elsewhere' } });
    const rehearsed = JSON.stringify({ ...JSON.parse(DAYS[0][3]), id: 'e'.repeat(32), dev: '00000000' });
    const bad = ['not a line', '{"v":1}', rehearsed, DAYS[1][0].slice(0, 60)];
    await choose(page, [DAYS[0][1], bad[0], ...DAYS[1], bad[1], clash, JSON.stringify(newer), bad[2], bad[3]]);
    const n1 = DAYS[1].length;
    assert.deepEqual(await countsOf(page), { New: n1, Already: 1, Not: 1, Clash: 1, Lines: 4 });
    const named = await page.locator('.bad-lines li').allInnerTexts();
    assert.deepEqual(named.map((words) => Number(/^Line (\d+): \S/.exec(words)[1])), [n1 + 5, n1 + 6, 2, n1 + 3, n1 + 7]);
    assert.equal((await kept(page)).length, DAYS[0].length); // looking stores nothing
    await button(page, 'Leave').click();

    const state = async () => stateOf((await kept(page)).filter(({ v }) => v === 1));
    // What this version does not understand is kept, byte for byte, and goes out again in a copy.
    await joinFile(page, [JSON.stringify(newer)]);
    assert.deepEqual(await state(), before);
    assert.ok((await download(page, 'Save a copy now')).text.includes(`${JSON.stringify(newer)}\n`));
    await choose(page, [JSON.stringify(newer)], 'again.jsonl');
    assert.deepEqual(await countsOf(page), { New: 0, Already: 1, Not: 0, Clash: 0, Lines: 0 });
    await button(page, 'Nothing new in it').waitFor();

    await joinFile(page, DAYS[1], 'other.jsonl');
    const n = DAYS[0].length + n1 + 1;
    await keptN(page, n);
    const after = await state();
    assert.notDeepEqual(after, before);
    await button(page, 'take out').click();
    await page.getByText(/^Taken out again: /).waitFor();
    await keptN(page, n + n1);
    const out = await state();
    assert.deepEqual(out.find((one) => one.session === before[0].session), before[0]);
    assert.deepEqual(out.find((one) => one.session !== before[0].session).rows, []);
    await show(page, server.url, 'copies'); // it can be put back another day
    await button(page, 'put back').click();
    await page.getByText(/^Joined: /).waitFor();
    await keptN(page, n + 2 * n1);
    assert.deepEqual(await state(), after);
    await context.close();
});

test('a disk that is full while a file is joined: it is said, nothing is half there, and it can be joined later', async () => {
    const { context, page } = await openScreen(browser, server.url, 'copies', { lines: DAYS[0] });
    await choose(page, DAYS[1]);
    await page.evaluate(() => {
        const real = IDBObjectStore.prototype.put;
        self.freeDisk = () => (IDBObjectStore.prototype.put = real);
        let n = 0;
        IDBObjectStore.prototype.put = function (...given) {
            if (++n > 20) throw new DOMException('The disk is full.', 'QuotaExceededError');
            return real.apply(this, given);
        };
    });
    await button(page, `Join ${DAYS[1].length} entries`).click();
    await page.getByText(/^Could not store all of it: .* What was here stays\.$/).waitFor();
    assert.equal((await kept(page)).length, DAYS[0].length);
    await page.evaluate(() => self.freeDisk());
    await button(page, `Join ${DAYS[1].length} entries`).click();
    await page.getByText(/^Joined: /).waitFor();
    await keptN(page, DAYS[0].length + DAYS[1].length);
    await context.close();
});

test('everything as one file and back: plans, unfinished sheets, settings and what was learned; a plan of the same name comes beside, and where things differ one chooses', async () => {
    const plan = (name, distance_m) => ({ schema: 1, name, spots: [{ id: 'long', distance_m, depth_m: 1.5 }], feed: [{ spot: 'long', bait: 'hard-4', how: 'clump' }] });
    const saved = (name, distance_m) => ({ at: '2026-04-11T20:15:00.000+01:00', plan: plan(name, distance_m) });
    const { summary } = await askCore(DAYS[0].map((line) => JSON.parse(line)), 'bed', { session: JSON.parse(DAYS[0][0]).id, summary: true, sets: 2, particles: 64 });
    const lesson = (key, data) => ({ key: `lesson ${key}`, of: 'core 1', summary: { ...summary, data } });
    const own = {
        meta: { plans: [saved('Tomorrow', 11), saved('Margin day', 2)], setup: { bait: 'micros-2', pot: 'large', species: ['carp'], unit: 'kg', aim: { objective: 'number' } }, twins: ['a b'] },
        drafts: { plan: plan('Unfinished', 9), card: { day: '2026-04-12', cells: { '0 landed': '3' } } },
        settings: { 'baitfall.look': 'dusk', 'baitfall.keys': 'off', 'baitfall.jump': '{"at":0,"jump_s":3}', 'another.page': 'its own' },
    };
    const one = await openScreen(browser, server.url, 'copies', { lines: DAYS[0] });
    await keepIn(one.page, own);
    const learned = [lesson('good', summary.data), lesson('bad', 'ff'.repeat(summary.data.length / 2))];
    const inBeliefs = (page, method, ...given) =>
        page.evaluate(
            ([name, args]) =>
                new Promise((resolve, reject) => {
                    const opening = indexedDB.open('baitfall-beliefs', 1);
                    opening.onupgradeneeded = () => opening.result.createObjectStore('snapshots', { keyPath: 'key' }).createIndex('used', 'used');
                    opening.onerror = () => reject(opening.error);
                    opening.onsuccess = () => {
                        const asked = opening.result.transaction('snapshots', 'readwrite').objectStore('snapshots')[name](...args);
                        asked.onsuccess = () => {
                            opening.result.close();
                            resolve(asked.result);
                        };
                    };
                }),
            [method, given],
        );
    for (const one_ of learned) await inBeliefs(one.page, 'put', one_);
    await show(one.page, server.url, 'copies');
    await one.page.waitForSelector('.safe');
    const { name, text } = await download(one.page, 'Everything as one file');
    assert.match(name, /\.everything\.jsonl$/);
    const [head, ...lines] = text.trimEnd().split('\n');
    assert.deepEqual(lines.sort(), [...DAYS[0]].sort());
    const { entries, things } = JSON.parse(head);
    assert.equal(entries, lines.length);
    const others = (name) => !/^setting\/baitfall\.(begun|quick)$/.test(name); // of the screens passed on the way
    assert.deepEqual(Object.keys(things).filter(others).sort(), ['draft/card', 'draft/plan', 'kept/setup', 'kept/twins', 'learned/lesson bad', 'learned/lesson good', 'plan/Margin day', 'plan/Tomorrow', 'setting/baitfall.keys', 'setting/baitfall.look'].sort());
    await one.page.getByText('Every entry is in a copy.').waitFor();
    await one.context.close();

    const two = await openScreen(browser, server.url, 'copies');
    const { page } = two;
    const dev = (await storeOf(page)).meta.dev;
    await keepIn(page, { meta: { plans: [saved('Tomorrow', 13)], setup: { bait: 'hard-4', pot: 'medium', species: ['F1'], unit: 'lb', aim: { objective: 'weight' } } } });
    const before = await storeOf(page);
    await choose(page, text, 'phone.everything.jsonl');
    const counted = await countsOf(page);
    assert.equal(counted.New, DAYS[0].length);
    assert.equal(counted.Saved, 2);
    assert.equal(counted.The, 1); // the set-up
    await page.locator('.counted .main-act').click();
    await page.getByText(/^Joined: /).waitFor();
    const mine = await storeOf(page);
    assert.deepEqual(mine.events.sort(), [...DAYS[0]].sort());
    assert.deepEqual(mine.meta.plans.map((one) => `${one.plan.name}: ${one.plan.spots[0].distance_m}`).sort(), ['Margin day: 2', 'Tomorrow 2: 11', 'Tomorrow: 13']);
    assert.equal(mine.meta.setup.bait, 'hard-4'); // ours stays
    assert.equal(mine.meta.dev, dev);
    assert.deepEqual(mine.meta.twins, own.meta.twins);
    assert.deepEqual(mine.drafts, own.drafts);
    assert.deepEqual([mine.settings['baitfall.look'], mine.settings['baitfall.keys'], mine.settings['another.page']], ['dusk', 'off', undefined]);
    assert.deepEqual((await inBeliefs(page, 'getAllKeys')), ['lesson good']); // of a file only what the core can learn from
    await button(page, 'take out').click();
    await page.getByText(/^Taken out again: /).waitFor();
    const out = await storeOf(page);
    assert.deepEqual(out.meta.plans, before.meta.plans);
    assert.deepEqual([out.drafts, out.settings['baitfall.look']], [{}, undefined]);
    await button(page, 'put back').click();
    await page.getByText(/^Joined: /).waitFor();
    assert.deepEqual((await storeOf(page)).meta.plans.length, 3);

    await choose(page, text, 'again.jsonl');
    assert.deepEqual(await countsOf(page), { New: 0, Already: DAYS[0].length, Not: 0, Clash: 0, Lines: 0, Saved: 0, Kit: 1, The: 1 }); // and the lesson that is none
    await button(page, 'Where they differ, take the file\u2019s').click();
    await page.locator('.counted .main-act').click();
    await page.getByText(/^Joined: 0 entries and/).waitFor();
    assert.equal((await storeOf(page)).meta.setup.bait, 'micros-2');
    // A file that was cut off says how much is missing, and what is there can be joined.
    await choose(page, `${text.split('\n').slice(0, 11).join('\n')}\n`, 'cut.jsonl');
    await page.getByText(`It should hold ${DAYS[0].length - 10} entries more.`).waitFor();
    assert.deepEqual(two.faults, []);
    await two.context.close();
});

test('another phone\u2019s log, joined while a session is open there: what is pressed here stays in one\u2019s own; without one it is gone on with by a press only', async () => {
    const theirs = session(dayOf(4, 5), { dev: '0000beef', first: 4000, ago: -60 }); // opened after ours, and open
    const { context, page, faults } = await openBank(browser, server.url);
    await press(page, 'missed');
    await keptN(page, 2);
    await show(page, server.url, 'copies');
    await joinFile(page, theirs);
    await page.evaluate(() => (location.hash = 'bank'));
    await press(page, 'fish');
    await show(page, server.url, 'bank');
    await press(page, 'lost');
    const n = theirs.length + 4;
    const mine = (await keptN(page, n)).filter(({ dev }) => dev !== '0000beef');
    assert.deepEqual([...new Set(mine.map((event) => event.session))], [mine[0].id]);
    await show(page, server.url, 'log');
    await button(page, 'End session').click();
    await button(page, 'Keep').click();
    await page.getByRole('heading', { name: 'Review', exact: true }).waitFor();
    await keptN(page, n + 1);
    await show(page, server.url, '');
    await page.waitForSelector('.jobs'); // no session is open here
    await show(page, server.url, 'review');
    await page.locator('select').selectOption(JSON.parse(theirs[0]).id);
    await button(page, 'Go on with it here').click();
    await page.getByRole('link', { name: 'Bank', exact: true }).click();
    await press(page, 'touch');
    const all = await keptN(page, n + 3);
    assert.deepEqual(all.slice(-2).map(({ kind, session: own }) => [kind, own]), [['note', JSON.parse(theirs[0]).id], ['touch', JSON.parse(theirs[0]).id]]);
    assert.deepEqual(faults, []);
    await context.close();
});

test('saved plans: each goes out as a file of its own, is deleted by choice, and can be put back', async () => {
    const { context, page, faults } = await openScreen(browser, server.url, 'copies');
    const plan = (name, distance_m) => ({ schema: 1, name, spots: [{ id: 'long', distance_m, depth_m: 1.5 }], feed: [{ spot: 'long', bait: 'hard-4', how: 'clump' }] });
    const plans = [plan('Tomorrow', 11), plan('Margin day', 2)].map((plan) => ({ at: '2026-04-11T20:15:00.000+01:00', plan }));
    await keepIn(page, { meta: { plans } });
    await show(page, server.url, 'plan');
    await page.getByText('Saved plans').click();
    const { name, text } = await download(page, 'File of Margin day');
    assert.equal(name, 'margin-day.plan.json');
    assert.deepEqual(JSON.parse(text), plans[1].plan);
    await button(page, 'Delete Margin day').click();
    await page.getByText('Margin day is deleted.').waitFor();
    assert.deepEqual((await storeOf(page)).meta.plans, [plans[0]]);
    await button(page, 'Put it back').click();
    await page.getByText('Margin day is saved again.').waitFor();
    assert.deepEqual((await storeOf(page)).meta.plans, [plans[1], plans[0]]);
    await button(page, 'Delete Tomorrow').click();
    await button(page, 'Delete Margin day').click();
    await page.getByText('Margin day is deleted.').waitFor();
    assert.deepEqual((await storeOf(page)).meta.plans, []);
    assert.equal(await page.getByText('Saved plans').count(), 0);
    assert.deepEqual(faults, []);
    await context.close();
});

const N = isLong ? 10_000 : 800;
test(`40. ${N} random events, hostile words among them, out as everything, into an empty browser: the same bytes and the same state; again, nothing; the program\u2019s too; as a table a row each, no formula`, async (t) => {
    const lines = randomJournal(random(40), N);
    const one = await openScreen(browser, server.url, 'copies', { lines });
    const { text } = await download(one.page, 'Everything as one file');
    const csv = await download(one.page, 'CSV');
    await one.context.close();
    const { context, page, faults } = await openScreen(browser, server.url, 'copies');
    await joinFile(page, text, 'all.everything.jsonl');
    const { events } = await storeOf(page);
    assert.deepEqual(events.sort(), [...lines].sort());
    assert.deepEqual(await stateOf(events.map((line) => JSON.parse(line))), await stateOf(lines.map((line) => JSON.parse(line))));
    await choose(page, textOf(lines), 'again.jsonl');
    assert.deepEqual(await countsOf(page), { New: 0, Already: N, Not: 0, Clash: 0, Lines: 0 });
    // Through the program and back: it takes all of them, and the page knows each.
    const folder = await mkdtemp(join(tmpdir(), 'baitfall-copies-'));
    t.after(() => rm(folder, { recursive: true }));
    const log = (words, input) => execFileSync(program, ['log', ...words, '--db', join(folder, 'journal.db')], { input, maxBuffer: 1 << 28 }).toString();
    const { new: taken, refused, clashes } = JSON.parse(log(['import', '-', '--json'], textOf(lines)));
    assert.deepEqual([taken, refused, clashes], [N, 0, 0]);
    await choose(page, log(['export']), 'program.jsonl');
    assert.deepEqual(await countsOf(page), { New: 0, Already: N, Not: 0, Clash: 0, Lines: 0 });
    await show(page, server.url, 'log');
    await page.waitForSelector('.rows li');
    assert.equal(await page.evaluate(() => self.ran), undefined);

    const [head, ...rows] = readCsv(csv.text);
    assert.equal(rows.length, N);
    assert.ok(rows.every((row) => row.length === head.length));
    for (const key of ['note', 'bait', 'spot', 'hook_bait', 'species', 'venue', 'peg'])
        for (const row of rows) assert.doesNotMatch(row[head.indexOf(key)], /^[=+\-@\t\r]/);
    assert.deepEqual(rows.map((row) => row[head.indexOf('id')]).sort(), lines.map((line) => JSON.parse(line).id).sort());
    assert.deepEqual(faults, []);
    await context.close();
});

test('40. A with B is B with A: the same state on both devices, and joining again adds nothing', async () => {
    const fix = { ...JSON.parse(DAYS[1][3]), id: 'e'.repeat(32), dev: '00000003', seq: 9000, kind: 'fix', of: JSON.parse(DAYS[0][3]).id, session: JSON.parse(DAYS[0][0]).id, body: { note: 'of the other device' } };
    const wild = randomJournal(random(41), 150, 20_000);
    const a = [...DAYS[0], ...DAYS[1], ...wild.slice(0, 100)];
    const b = [...DAYS[1], ...DAYS[2], JSON.stringify(fix), ...wild.slice(50)];
    const union = [...new Set([...a, ...b])];
    const states = [];
    for (const [first, second] of [[a, b], [b, a]]) {
        const { context, page } = await openScreen(browser, server.url, 'copies');
        await joinFile(page, first, 'first.jsonl');
        await joinFile(page, second, 'second.jsonl');
        const both = await keptN(page, union.length);
        states.push(await stateOf(both));
        await choose(page, [...a, ...b], 'both.jsonl');
        await button(page, 'Nothing new in it').waitFor();
        assert.deepEqual(await countsOf(page), { New: 0, Already: a.length + b.length, Not: 0, Clash: 0, Lines: 0 });
        await context.close();
    }
    assert.equal(states[0].length, 4);
    assert.deepEqual(states[0], states[1]);
});

test('40. the table gives each hostile word back, marks what is crossed out, and keeps numbers numbers', async () => {
    const lines = session([...HOSTILE.map((note) => ['note', { note }]), ['feed', { bait: '=HYPERLINK("x")', count: 3 }], ['plumb', { side_m: -2, depth_m: 1.5 }]]);
    const crossed = { ...JSON.parse(lines[1]), id: 'c'.repeat(32), seq: 99, kind: 'cross', of: JSON.parse(lines[1]).id, body: {} };
    const all = [...lines, JSON.stringify(crossed)];
    const { context, page, faults } = await openScreen(browser, server.url, 'log', { lines: all });
    await page.waitForSelector('.rows li');
    assert.equal(await page.locator('.rows .own').count(), HOSTILE.length);
    await show(page, server.url, 'copies');
    const { name, text } = await download(page, 'CSV');
    assert.match(name, /\.csv$/);
    const [head, ...rows] = readCsv(text);
    assert.equal(rows.length, all.length);
    const column = (key) => rows.map((row) => row[head.indexOf(key)]);
    assert.ok(column('side_m').includes('-2')); // a number stays one
    const notes = column('note').filter(Boolean).map((cell) => (/^'[=+\-@\t\r']/.test(cell) ? cell.slice(1) : cell));
    assert.deepEqual(notes.sort(), [...HOSTILE].sort());
    assert.equal(column('crossed').filter((cell) => cell === '1').length, 1);
    assert.equal(await page.evaluate(() => self.ran), undefined);
    assert.deepEqual(faults, []);
    await context.close();
});

test('40. the evening\u2019s times as a calendar: RFC 5545 to the letter, with hostile names in it; and no file says where a peg is', async () => {
    const answer = await loadCore();
    const plan = {
        schema: 1,
        name: 'a;b,c\\d "x" \u{1F41F} <script>'.slice(0, 40),
        venue: { name: 'BEGIN:VALARM', peg: '14', lat_deg: 51.234567, lon_deg: -1.234567 },
        spots: [{ id: 'long', distance_m: 11, depth_m: 1.5 }],
        feed: [{ spot: 'long', bait: 'expander-4', how: 'clump' }],
        box: [{ bait: 'expander-4', volume: '1 l' }],
        session: { starts: '2026-04-12T09:00:00+01:00' },
        ics: '2026-04-11T18:00:00+01:00',
    };
    const { ics, prep, error } = answer('plan', plan);
    assert.equal(error, undefined);
    assert.ok(prep.length > 0);
    assert.ok(ics.endsWith('END:VCALENDAR\r\n') && ics.startsWith('BEGIN:VCALENDAR\r\n'));
    assert.doesNotMatch(ics, /[^\r]\n|\r[^\n]|[\0-\x08\x0b\x0c\x0e-\x1f]/);
    const physical = ics.split('\r\n').slice(0, -1);
    assert.ok(physical.every((line) => Buffer.byteLength(line) <= 75)); // 3.1: lines of at most 75 octets
    const lines = ics.replaceAll('\r\n ', '').split('\r\n').slice(0, -1);
    assert.ok(lines.every((line) => /^[A-Z-]+(;[A-Z-]+=[^:;]+)*:/.test(line)), 'name, parameters, colon');
    const stack = [];
    const ids = [];
    const seen = {};
    for (const line of lines) {
        const [, key, value] = /^([A-Z-]+)[^:]*:(.*)$/s.exec(line);
        if (key === 'BEGIN') stack.push(value);
        if (key === 'END') assert.equal(stack.pop(), value);
        const where = `${stack.at(-1)} ${key}`;
        seen[where] = (seen[where] ?? 0) + 1;
        if (key === 'UID') ids.push(value);
        if (key === 'DTSTAMP' || key === 'DTSTART') assert.match(value, /^\d{8}T\d{6}Z$/);
        if (key === 'SUMMARY' || key === 'DESCRIPTION') assert.doesNotMatch(value.replace(/\\[\\;,nN]/g, ''), /[\\;,]/); // 3.3.11: escaped
    }
    assert.deepEqual(stack, []);
    assert.equal(new Set(ids).size, ids.length);
    assert.equal(ids.length, prep.length);
    assert.deepEqual([seen['VCALENDAR VERSION'], seen['VCALENDAR PRODID']], [1, 1]);
    for (const key of ['UID', 'DTSTAMP', 'DTSTART']) assert.equal(seen[`VEVENT ${key}`], prep.length);
    for (const key of ['ACTION', 'TRIGGER']) assert.equal(seen[`VALARM ${key}`], prep.length);
    assert.doesNotMatch(ics, /51\.23|1\.2345|^GEO|^LOCATION/m);
});

test('23. copies in three looks at each size, a file counted: axe finds nothing, nothing is too wide or too small', async () => {
    const { context, page, faults } = await openScreen(browser, server.url, 'copies', { lines: DAYS[0] });
    await page.waitForSelector('.ready table');
    await choose(page, [...DAYS[1].slice(0, 3), 'not a line'], `${'a-long-name'.repeat(6)}.journal.jsonl`);
    await page.waitForSelector('.bad-lines');
    for (const look of LOOKS) {
        await wear(page, look);
        await standsWell(page, look, SIZES, { name: look });
    }
    assert.deepEqual(faults, []);
    await context.close();
});

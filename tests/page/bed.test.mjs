// The Bed: what was logged stands first and at once, what is believed comes when it is worked out, in the core's own words and
// numbers; the angler's eye is an entry; snapshots save the work; nothing moves, nothing is asked for that nobody looks at.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { askCore, kept, keptN, openPage, openSeeded, seed, session, stopClock, ticking } from './bank.mjs';
import { believed, dayAt, holdWorker, holding, toBed } from './bed.mjs';
import { browser, eventually, offlineWords, program, server, until, useBrowser } from './common.mjs';
import { SIZES, button, misplaced, standsWellInAll } from './log.mjs';
import { overhang } from './looks.mjs';
import { meta, openDetails } from './plan.mjs';

useBrowser();

const HOUR = dayAt(['long'], 75);
const MOVED = dayAt(['long', 'short'], 75);

async function openBed(entries, options = {}) {
    const opened = await openSeeded(browser, server.url, entries, options);
    await toBed(opened.page);
    await believed(opened.page);
    return opened;
}

/** Counts the questions that a page puts to the belief's worker. */
const COUNTING = `{
    const post = Worker.prototype.postMessage;
    self.asked = [];
    Worker.prototype.postMessage = function (message, ...others) {
        if (message.question === 'bed') self.asked.push(message.request);
        return post.call(this, message, ...others);
    };
}`;
const nAsked = (page) => page.evaluate(() => self.asked.length);

/** What the page keeps of its last look: the core's answer. */
const lastAnswer = (page) => meta(page, 'bed');
const snapshots = (page) =>
    page.evaluate(
        () =>
            new Promise((resolve) => {
                indexedDB.open('baitfall-beliefs').onsuccess = ({ target }) => {
                    const database = target.result;
                    database.transaction('snapshots').objectStore('snapshots').getAllKeys().onsuccess = (event) => {
                        database.close();
                        resolve(event.target.result);
                    };
                };
            }),
    );
const dashed = (text) => text.replace(/(\d)-(\d)/g, '$1\u2013$2');

test('facts stand there at once and first, buttons are live before the belief is back, and nothing is made up for it', async () => {
    const { onContext, letGo } = holding();
    const { context, page, faults } = await openSeeded(browser, server.url, HOUR, { onContext });
    await toBed(page);
    await page.getByText(/since the last put-in/).waitFor();
    assert.match(await page.getByRole('region', { name: 'Known', exact: true }).innerText(), /\d\s+since the last put-in: hard 4 mm pellets, 40/);
    const order = await page.$$eval('.bed section', (all) => all.map((one) => one.ariaLabel ?? one.querySelector('h2').innerText));
    assert.deepEqual(order.slice(0, 2), ['Known', 'Feed left']);
    assert.equal(await page.locator('.bed figure').count(), 0);
    assert.deepEqual(await page.locator('.reckon .finding').allInnerTexts(), ['', '', '']);
    await page.getByText('Not looked yet, working.').waitFor();
    assert.equal(await page.locator('.bed').getAttribute('aria-busy'), 'true');

    await button(page, 'Less').click();
    const look = (await keptN(page, HOUR.length + 2)).at(-1);
    assert.equal(look.kind, 'look');
    assert.deepEqual(look.body, { spot: 'long', eye: 'less' }); // nothing was shown, so nothing is said to have been
    await page.locator('.looked > span').getByText(/^Look \d\d:\d\d: less$/).waitFor();

    letGo();
    await believed(page);
    assert.equal(await page.locator('.bed figure svg').count(), 3);
    await page.getByText(/^Last looked \d\d:\d\d\.$/).waitFor();
    assert.deepEqual(faults, []);
    await context.close();
});

test('numbers, words and drawings are those of the core, asked about the same entries at the same instant', async () => {
    const { context, page, faults } = await openBed(HOUR);
    const { answer } = await lastAnswer(page);
    const request = { session: answer.session.id, now: answer.at, pictures: ['left', 'fish', 'above'], look: 'shade' };
    const core = await askCore(await kept(page), 'bed', request);
    assert.deepEqual(answer, core);
    const section = (name) => page.getByRole('region', { name, exact: true });
    assert.equal(await section('Feed left').locator('h2').innerText(), `Feed left: ${core.left.word}`);
    const finding = (await section('Feed left').locator('.finding').innerText()).toLowerCase();
    assert.ok(finding.startsWith(dashed(core.left.text)) && finding.includes(dashed(core.sentence)), finding);
    assert.equal(await section('Fish on the feed').locator('h2').innerText(), `Fish: ${core.fish.band}`);
    assert.doesNotMatch(await section('Fish on the feed').locator('h2').innerText(), /\d/);
    assert.equal(await section('Where it lies').locator('.finding').innerText(), dashed(core.pictures.above.finding));
    assert.equal(await section('Known').getByText(`put in here in the last hour, ${core.known.fed} in all`).count(), 1);
    const drawn = await page.$$eval('.drawn figure svg', (all) => all.map((svg) => svg.querySelector('desc').textContent));
    assert.deepEqual(drawn, ['left', 'fish', 'above'].map((name) => core.pictures[name].finding));
    const tables = await page.$$eval('.drawn-table table', (all) =>
        all.map((table) => [...table.rows].map((row) => [...row.cells].map((cell) => cell.textContent))),
    );
    assert.deepEqual(tables, ['left', 'fish', 'above'].map((name) => core.pictures[name].table));
    const rows = await page.$$eval('.ledger tbody tr', (all) => all.map((row) => [...row.cells].map((cell) => cell.textContent)));
    assert.equal(rows.length, core.ledger.length);
    core.ledger.forEach(({ from, what, in: put, gone }, i) => {
        const [at, said, into, out] = rows[i];
        assert.deepEqual([said, into], [what, `+${Math.round(put)}`]);
        assert.equal(Date.parse(`${from.slice(0, 11)}${at}${from.slice(16)}`), Date.parse(from));
        const [lo, mid, hi] = [gone.lo, gone.mid, gone.hi].map(Math.round);
        assert.equal(out, `${mid > 0 ? '\u2212' : ''}${mid}${lo < hi ? ` (${lo}\u2013${hi})` : ''}`);
    });
    assert.equal(await page.getByText(core.what).count(), 1);
    for (const { text } of core.notes) assert.equal(await page.locator('.rests li').getByText(text, { exact: true }).count(), 1);
    assert.deepEqual(faults, []);
    await context.close();
});

test('a look is entered with the number that was shown, crossed out and put back; the belief follows', async () => {
    const { context, page, faults } = await openBed(HOUR);
    const before = (await lastAnswer(page)).answer;
    const shown = Math.round(before.left.mid);
    await button(page, 'More').click();
    let events = await keptN(page, HOUR.length + 2);
    assert.deepEqual(events.at(-1).body, { spot: 'long', eye: 'more', shown });
    await page.getByRole('status').getByText(/^More logged \d\d:\d\d\. Cross out is ready\.$/).waitFor({ state: 'attached' });
    await page.locator('.looked > span').getByText(`more than ${shown}`).waitFor();
    await eventually(async () => /You judged .*more than shown/.test((await lastAnswer(page)).answer.known.sentences.join(' ')));
    await believed(page);

    await button(page, /^cross out Look/).click();
    events = await keptN(page, HOUR.length + 3);
    assert.deepEqual([events.at(-1).kind, events.at(-1).of], ['cross', events.at(-2).id]);
    await page.waitForSelector('.looked .crossed');
    await believed(page);
    await button(page, /^put back Look/).click();
    events = await keptN(page, HOUR.length + 4);
    assert.deepEqual([events.at(-1).kind, events.at(-1).of], ['restore', events.at(-3).id]);
    // The Bank takes it back like any other entry.
    await page.getByRole('link', { name: 'Bank' }).click();
    await page.waitForSelector('.outcomes');
    await page.locator('[data-press="undo"]').getByText('Look').waitFor();
    assert.deepEqual(faults, []);
    await context.close();
});

test('opened again it shows what was looked at last, and goes on from the snapshot to the very same answer', async () => {
    const { context, page, faults } = await openBed(HOUR);
    const from = () => page.locator('.bed').getAttribute('data-from').then(Number);
    await eventually(async () => (await snapshots(page)).length > 0); // which the advice on the Bank has left, or this
    assert.equal((await snapshots(page)).length, 1);
    const first = (await lastAnswer(page)).answer;

    const letGo = await holdWorker(context);
    await page.reload();
    await page.getByText(/^Last looked \d\d:\d\d, working\.$/).waitFor();
    assert.equal(await page.locator('.bed figure svg').count(), 3);
    assert.ok((await page.locator('.reckon .finding').first().innerText()).toLowerCase().startsWith(dashed(first.left.text)));
    letGo();
    await believed(page);
    const onS = await from();
    assert.ok(onS >= 600 && onS % 600 === 0, `${onS} s`);
    const { answer } = await lastAnswer(page);
    assert.notEqual(answer.at, first.at);
    const { session, at } = answer;
    const request = { session: session.id, now: at, pictures: ['left', 'fish', 'above'], look: 'shade' };
    assert.deepEqual(answer, await askCore(await kept(page), 'bed', request)); // which worked it out from the beginning

    await button(page, 'About right').click();
    await eventually(async () => (await lastAnswer(page)).answer.at !== at);
    await believed(page);
    assert.equal(await from(), onS);
    assert.deepEqual(faults, []);
    await context.close();
});

test('what earlier sessions told goes into it: the same account as the program gives of the same journal', async (t) => {
    const DAY_S = 86_400;
    const earlier = [3, 2, 1].flatMap((daysAgo) =>
        session(dayAt(['long'], 40 + 7 * daysAgo), { first: 1000 * daysAgo, ago: daysAgo * DAY_S, dev: '0badcafe' }),
    );
    const all = [...earlier, ...session(HOUR)];
    const { context, page, faults } = await openPage(browser);
    await page.goto(server.url);
    await page.waitForSelector('.jobs');
    await seed(page, all);
    await page.goto('about:blank');
    await page.goto(`${server.url}#bed`);
    await believed(page);
    const { answer } = await lastAnswer(page);
    assert.equal(answer.rests_on.sessions, 3);

    const folder = await mkdtemp(join(tmpdir(), 'baitfall-bed-'));
    t.after(() => rm(folder, { recursive: true }));
    const file = join(folder, 'all.jsonl');
    await writeFile(file, all.map((line) => `${line}\n`).join(''));
    const programs = (...more) => {
        const words = ['bed', file, '--session', answer.session.id, '--at', answer.at, '--json', ...more];
        const env = { ...process.env, HOME: folder, XDG_CACHE_HOME: folder, XDG_CONFIG_HOME: folder, TZ: 'UTC' };
        const { pictures, ...said } = JSON.parse(execFileSync(program, words, { env }).toString());
        return said;
    };
    const { pictures, ...said } = answer;
    assert.deepEqual(said, programs());
    assert.notDeepEqual(said.left, programs('--book').left); // they do tell something
    // Kept, they are not worked out again; and they say the same.
    await page.reload();
    await believed(page);
    assert.equal((await lastAnswer(page)).answer.rests_on.sessions, 3);
    assert.deepEqual(faults, []);
    await context.close();
});

test('entries that come together are reckoned with together', async () => {
    const { context, page } = await openBed(HOUR, { scripts: [COUNTING] });
    const before = await nAsked(page);
    for (const word of ['More', 'About right', 'More', 'More', 'About right', 'Less']) await button(page, word).click();
    await keptN(page, HOUR.length + 7);
    await until(page, () => document.querySelector('.looked').innerText.includes('less')); // the last of them is counted too
    await believed(page);
    const asked = (await nAsked(page)) - before;
    assert.ok(asked >= 1 && asked <= 6, `${asked} questions`);
    await page.waitForTimeout(500);
    assert.equal((await nAsked(page)) - before, asked); // and then none more
    const { answer } = await lastAnswer(page);
    assert.match(answer.known.sentences.join(' '), /less than shown/);
    await context.close();
});

test('it is worked out again once a minute, not while it is hidden, and not at all where nobody looks', async () => {
    const { context, page } = await openSeeded(browser, server.url, HOUR, { scripts: [COUNTING], hasClock: true });
    const workers = () => page.workers().filter((worker) => /\?belief$/.test(worker.url())).length;
    await stopClock(page);
    await page.evaluate(() => (location.hash = 'log')); // the Bank looks: it has a line of advice
    await ticking(page, page.waitForSelector('.log'), 20);
    await page.clock.runFor(180_000);
    await eventually(() => workers() === 0);
    const believedNow = () => ticking(page, believed(page), 20);
    const askedOnce = (n) => ticking(page, until(page, (wanted) => self.asked.length === wanted, n), 20);
    await page.evaluate(() => {
        const rests = (changes) => changes.some(({ target }) => target.matches('.bed[aria-busy="false"]')) && (self.restsMs = Date.now());
        new MutationObserver(rests).observe(document.body, { subtree: true, attributeFilter: ['aria-busy'] });
    });
    await ticking(page, toBed(page), 20);
    await believedNow();
    assert.equal(workers(), 1);
    const first = await nAsked(page);
    const [restsMs, nowMs] = await page.evaluate(() => [self.restsMs, Date.now()]); // the clock has gone on since: it ran while this was waited for
    await page.clock.runFor(restsMs + 59_000 - nowMs);
    await page.waitForTimeout(200);
    assert.equal(await nAsked(page), first, 'within the minute');
    await page.clock.runFor(2_000);
    await until(page, (n) => self.asked.length === n, first + 1);
    await believedNow();

    await page.evaluate(() => {
        Object.defineProperty(document, 'hidden', { get: () => self.isAway, configurable: true });
        self.isAway = true;
    });
    await page.clock.runFor(300_000);
    await page.waitForTimeout(200);
    assert.equal(await nAsked(page), first + 1);
    await page.evaluate(() => {
        self.isAway = false;
        document.dispatchEvent(new Event('visibilitychange'));
    });
    await askedOnce(first + 2);
    await believedNow();

    await page.evaluate(() => (location.hash = 'log'));
    await ticking(page, page.waitForSelector('.log'), 20);
    const left = await nAsked(page);
    await page.clock.runFor(60_000);
    assert.equal(workers(), 1); // for who looks in again
    await page.clock.runFor(61_000);
    await eventually(() => workers() === 0);
    assert.equal(await nAsked(page), left);
    await context.close();
});

test('with several spots each has its own bed; the one fished last comes first', async () => {
    const { context, page, faults } = await openBed(MOVED);
    const pressed = () => page.locator('.spots [aria-pressed="true"]').innerText();
    const last = (await lastAnswer(page)).answer.spot;
    assert.equal((await pressed()).toLowerCase(), last);
    const other = last === 'long' ? 'Short' : 'Long';
    await button(page, other).click();
    await until(page, (name) => document.querySelector('.top p').innerText.startsWith(name), other);
    await believed(page);
    const { answer } = await lastAnswer(page);
    assert.equal(answer.spot, other.toLowerCase());
    // The last put-in of all was at the other one, and says so; the last one here stands below it.
    await page.getByText(`since the last put-in, at ${last}: hard 4 mm pellets, 40`).waitFor();
    assert.match(answer.known.sentences[0], new RegExp(`^Last put-in at ${answer.spot} `));
    assert.equal(await page.locator('.known .here').innerText(), answer.known.sentences[0]);
    assert.equal(await page.locator('.reckon h2').first().innerText(), `Feed left: ${answer.left.word}`);
    await button(page, 'Less').click();
    assert.equal((await keptN(page, MOVED.length + 2)).at(-1).body.spot, other.toLowerCase());
    assert.deepEqual(faults, []);
    await context.close();
});

test('without a connection it works as with one', async (t) => {
    const { context, page, faults } = await openPage(browser, { serviceWorkers: 'allow' });
    t.after(() => context.close());
    await page.goto(server.url);
    await page.waitForSelector('.jobs');
    await page.goto(`${server.url}#pot`);
    assert.match(await offlineWords(page), /^Ready offline: yes/);
    await page.goto(`${server.url}#start`);
    await button(page, 'Start').click();
    await page.waitForSelector('.outcomes');
    await page.keyboard.press('f');
    await keptN(page, 2);
    await context.setOffline(true);
    await page.goto('about:blank');
    await page.goto(`${server.url}#bed`);
    await page.waitForSelector('.bed');
    await believed(page);
    assert.equal(await page.locator('.bed figure svg').count(), 3);
    await button(page, 'More').click();
    await keptN(page, 3);
    assert.deepEqual(faults, []);
});

test('when it cannot be worked out that is said, and everything else goes on', async () => {
    const onContext = (context) => context.route(/\?belief$/, (route) => route.abort());
    const { context, page } = await openSeeded(browser, server.url, HOUR, { onContext });
    await toBed(page);
    await page.getByRole('alert').getByText(/The bed cannot be worked out\. Everything entered is kept\./).waitFor();
    await page.getByText('Could not look again.').waitFor();
    assert.equal(await page.locator('.bed figure').count(), 0);
    await page.getByText(/since the last put-in/).waitFor();
    await button(page, 'More').click();
    assert.equal((await keptN(page, HOUR.length + 2)).at(-1).kind, 'look');
    await context.close();
});

test('before anything is fed it says so, and invents nothing', async () => {
    const { context, page, faults } = await openBed([]);
    await page.getByText('nothing put in yet', { exact: true }).first().waitFor();
    const { answer } = await lastAnswer(page);
    assert.ok(answer.notes.some(({ code }) => code === 'nothing-fed'));
    assert.deepEqual(answer.ledger, []);
    assert.equal(await page.getByText('Nothing yet.').count(), 1);
    assert.deepEqual(faults, []);
    await context.close();
});

test('38. nothing moves when the belief comes: what reckons has its room before', async () => {
    for (const [width, height] of SIZES) {
        const { onContext, letGo } = holding();
        const { context, page } = await openSeeded(browser, server.url, HOUR, { width, height, onContext });
        await toBed(page);
        await page.getByText(/since the last put-in/).waitFor();
        const places = () =>
            page.$$eval('.bed h2, .bed h3, .bed .pick button, .drawn', (all) =>
                all.map((one) => Math.round(one.getBoundingClientRect().top + scrollY)),
            );
        const before = await places();
        await page.evaluate(() => {
            self.shifts = 0;
            new PerformanceObserver((list) => list.getEntries().forEach(({ value }) => (self.shifts += value))).observe({ type: 'layout-shift' });
        });
        letGo();
        await believed(page);
        await page.waitForTimeout(300);
        const after = await places();
        assert.equal(before.length, 13);
        assert.deepEqual(after.slice(0, 13), before, `${width}`); // then what it rests on: new, and last
        assert.ok((await page.evaluate(() => self.shifts)) < 0.02);
        await context.close();
    }
});

/** In the sun all letters are bold, and so the widest. */
const IN_SUN = `location.protocol === 'http:' && (localStorage['baitfall.look'] = 'sun')`;
const SPACED = '* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-bottom: 2em !important }';
test('21. a Bed of two spots at 280 px, with the spacing of WCAG 1.4.12, and with text twice as large: nothing cut, nothing over another', async () => {
    const { context, page } = await openBed(MOVED, { width: 280, scripts: [IN_SUN] });
    await button(page, 'More').click();
    await keptN(page, MOVED.length + 2);
    const stands = async (how) => {
        await believed(page);
        await openDetails(page);
        assert.ok((await overhang(page)) <= 0, how);
        assert.deepEqual(await misplaced(page), [], how);
    };
    await stands('280 px');
    await page.setViewportSize({ width: 320, height: 640 });
    await page.evaluate((rules) => {
        const sheet = new CSSStyleSheet();
        sheet.replaceSync(rules);
        document.adoptedStyleSheets = [sheet];
    }, SPACED);
    await stands('spaced');
    await (await context.newCDPSession(page)).send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
    await page.reload();
    await page.waitForSelector('.bed');
    await stands('twice as large');
    await context.close();
});

test('23. the Bed in three looks at each size, all open: axe finds nothing, nothing is too wide, too small, cut or over another', async () => {
    const { context, page, faults } = await openBed(MOVED);
    await button(page, 'More').click();
    await keptN(page, MOVED.length + 2);
    await believed(page);
    await openDetails(page);
    await standsWellInAll(page, SIZES);
    assert.deepEqual(faults, []);
    await context.close();
});

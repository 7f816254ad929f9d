// Looking back: the core's words and drawings as they are, nothing while there is nothing, copies that lose nothing, files
// of other devices that add and never take away.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { askCore, kept, keptN, openBank, press, session } from './bank.mjs';
import { LOOKS, browser, server, useBrowser } from './common.mjs';
import { SIZES, button, dayOf, openScreen, show, standsWell, stateIn, stateOf } from './log.mjs';

useBrowser();

const DAY = 86_400;
/** Three closed days of two devices, made up for the tests. */
const DAYS = [1, 2, 3].map((k) =>
    session([...dayOf(k, 60), ['close']], { step: 90, ago: k * DAY, first: k * 1000, dev: k === 2 ? '0000beef' : '0badcafe' }),
);
const file = (lines, name = 'other.journal.jsonl') => ({
    name,
    mimeType: 'application/jsonl',
    buffer: Buffer.from(lines.map((line) => `${line}\n`).join('')),
});
const choose = (page, lines) => page.setInputFiles('input[type=file]', file(lines));
const add = async (page, lines) => {
    await choose(page, lines);
    await page.locator('.counted .main-act').click();
    await page.getByText(/^Added \d+ entr/).waitFor();
};
/** The numbers of the table that says what adding would do. */
const countsOf = (page) => page.locator('.counted td').allInnerTexts().then((cells) => cells.map(Number));
const events = (...journals) => journals.flat().map((line) => JSON.parse(line));
const download = async (page, name) => {
    const [out] = await Promise.all([page.waitForEvent('download'), button(page, name).click()]);
    return { name: out.suggestedFilename(), text: await readFile(await out.path(), 'utf8') };
};

test('with nothing entered nothing is invented', async () => {
    const { context, page, faults } = await openScreen(browser, server.url, 'review');
    await page.getByText('No session yet.').waitFor();
    assert.equal(await page.locator('figure, .sentences, .scroll').count(), 0);
    assert.doesNotMatch(await page.locator('main').innerText(), /\d/);
    assert.ok(await button(page, 'Save a copy').isDisabled());
    await show(page, server.url, 'log');
    await page.getByText('No session yet.').waitFor();
    assert.deepEqual(faults, []);
    await context.close();
});

test('the sentences, findings, tables and drawings are the core\u2019s, each drawing under its finding and over its table', async () => {
    const { context, page, faults } = await openScreen(browser, server.url, 'review', { lines: DAYS[0], width: 1280, height: 800 });
    await page.waitForFunction(() => document.querySelectorAll('figure svg').length === 5);
    const core = await askCore(events(DAYS[0]), 'review', { pictures: ['timeline', 'waits', 'catch', 'rates', 'change'], look: 'shade' });
    assert.deepEqual(await page.locator('.sentences li').allInnerTexts(), core.sentences);
    assert.equal(core.sentences.length, 3);
    assert.equal(await page.locator('.try p').first().innerText(), core.try);
    const shown = await page.$$eval('figure', (figures) =>
        figures.map((figure) => ({
            above: figure.previousElementSibling.innerText,
            below: [...figure.nextElementSibling.querySelectorAll('th')].map((cell) => cell.textContent),
        })),
    );
    const pictures = ['timeline', 'waits', 'catch', 'rates', 'change'].map((name) => core.pictures[name]);
    assert.deepEqual(
        shown,
        pictures.map(({ finding, table }) => ({ above: finding, below: table.map(([what]) => what) })),
    );
    const outcomes = core.tables.find(({ name }) => name === 'outcomes');
    const cells = await page.locator(`[aria-label="${outcomes.title}"] tbody tr`).first().locator('th, td').allInnerTexts();
    assert.deepEqual(cells, outcomes.rows[0]);
    assert.deepEqual(faults, []);
    await context.close();
});

test('on a phone the timeline is the narrow one; from 900 px the wide one', async () => {
    const widthOf = (page) => page.locator('figure svg').first().evaluate((svg) => svg.viewBox.baseVal.width);
    const seen = [];
    for (const [width, height] of SIZES) {
        const { context, page } = await openScreen(browser, server.url, 'review', { lines: DAYS[0], width, height });
        await page.waitForFunction(() => document.querySelectorAll('figure svg').length === 5);
        seen.push(await widthOf(page));
        await context.close();
    }
    assert.ok(seen[1] > 1.5 * seen[0], seen.join(', '));
});

test('sessions are picked from a list, and the season has its ranges and the word about cause', async () => {
    const { context, page } = await openScreen(browser, server.url, 'review', { lines: DAYS.flat() });
    await page.waitForFunction(() => document.querySelectorAll('select option').length === 3);
    const oldest = JSON.parse(DAYS[2][0]).id;
    await page.locator('select').selectOption(oldest);
    const core = await askCore(events(...DAYS), 'review', { session: oldest });
    await page.waitForFunction((words) => document.querySelector('.sentences li')?.innerText === words, core.sentences[0]);
    await button(page, 'Show the season').click();
    const season = await askCore(events(...DAYS), 'season', {});
    await page.getByText(season.sentences[0]).waitFor();
    const cause = season.notes.find(({ code }) => code === 'confounded').text;
    assert.equal(await page.getByText(cause).count(), 1);
    const feed = season.tables.find(({ name }) => name === 'feed');
    const rows = await page.locator(`[aria-label="${feed.title}"] tbody tr`).evaluateAll((all) =>
        all.map((row) => [...row.children].map((cell) => cell.textContent)),
    );
    assert.deepEqual(rows, feed.rows);
    await button(page, 'Its log').click();
    await page.waitForSelector('.rows li');
    assert.equal(await page.locator('.rows li').count(), 100);
    await context.close();
});

test('a copy holds every entry as it lies there, and what is not in one is counted', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'fish');
    await press(page, 'missed');
    await keptN(page, 3);
    await show(page, server.url, 'review');
    await page.getByText('3 entries not yet copied out.').waitFor();
    const { name, text } = await download(page, 'Save a copy');
    assert.match(name, /^\d{4}-\d\d-\d\dT\d{4}\.journal\.jsonl$/);
    const byId = (a, b) => (a.id < b.id ? -1 : 1);
    assert.deepEqual(text.trimEnd().split('\n').map((line) => JSON.parse(line)).sort(byId), (await kept(page)).sort(byId));
    await page.getByText('Every entry is in a copy.').waitFor();
    await show(page, server.url, 'bank');
    await page.waitForSelector('.outcomes');
    await press(page, 'lost');
    await keptN(page, 4);
    await show(page, server.url, 'review');
    await page.getByText('1 entry not yet copied out.').waitFor();
    const all = await download(page, 'All data');
    assert.equal(all.text.trimEnd().split('\n').length, 4);
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
    const { context, page } = await openScreen(browser, server.url, 'review', { lines: DAYS[0], scripts: [SHARE], hasTouch: true, isMobile: true });
    const left = page.getByText(`${DAYS[0].length} entries not yet copied out.`);
    await left.waitFor();
    await page.evaluate(() => (self.isPutAway = true));
    await button(page, 'Save a copy').click();
    await page.getByText('Not saved: the share sheet was put away.').waitFor();
    assert.ok(await left.isVisible());
    await page.evaluate(() => (self.isPutAway = false));
    await button(page, 'Save a copy').click();
    await page.getByText('Every entry is in a copy.').waitFor();
    const [{ name, text }, ...more] = await page.evaluate(() => self.shared);
    assert.deepEqual(more, []);
    assert.match(name, /\.journal\.jsonl\.txt$/);
    assert.deepEqual(text.trimEnd().split('\n').sort(), [...DAYS[0]].sort());
    await context.close();
});

/** Rows of cells by RFC 4180. */
function readCsv(text) {
    const rows = [[]];
    let cell = '';
    for (let i = 0, isQuoted = false; i < text.length; i++) {
        if (isQuoted && text[i] === '"' && text[i + 1] === '"') cell += text[i++];
        else if (text[i] === '"') isQuoted = !isQuoted;
        else if (!isQuoted && text[i] === ',') cell = rows.at(-1).push(cell) ? '' : '';
        else if (!isQuoted && text.startsWith('\r\n', i)) {
            rows.at(-1).push(cell);
            rows.push([]);
            cell = '';
            i++;
        } else cell += text[i];
    }
    assert.deepEqual(rows.pop(), []); // ends with a line end
    return rows;
}

test('the table has a row an event, and of hostile notes no cell is a formula and no script runs', async () => {
    const HOSTILE = ['=1+1', '+cmd|calc', '-2', '@SUM(A1)', '\t=1', '\r=1', '"a","b"', 'two\r\nlines', '<script>self.ran = 1</script>', '\u202egnp.exe', '\u2019=1', "'=1", 'x'.repeat(10_000), '\u{1F41F}'];
    const lines = session([...HOSTILE.map((note) => ['note', { note }]), ['feed', { bait: '=HYPERLINK("x")', count: 3 }], ['plumb', { side_m: -2, depth_m: 1.5 }]]);
    const crossed = { ...JSON.parse(lines[1]), id: 'c'.repeat(32), seq: 99, kind: 'cross', of: JSON.parse(lines[1]).id, body: {} };
    const all = [...lines, JSON.stringify(crossed)];
    const { context, page, faults } = await openScreen(browser, server.url, 'log', { lines: all });
    await page.waitForSelector('.rows li');
    assert.equal(await page.locator('.rows .own').count(), HOSTILE.length);
    await show(page, server.url, 'review');
    const { name, text } = await download(page, 'CSV');
    assert.match(name, /\.csv$/);
    const [head, ...rows] = readCsv(text);
    assert.equal(rows.length, all.length);
    assert.ok(rows.every((row) => row.length === head.length));
    const column = (key) => rows.map((row) => row[head.indexOf(key)]);
    const TEXTS = ['note', 'bait', 'spot', 'hook_bait', 'species', 'venue', 'peg', 'plan'];
    for (const key of TEXTS) for (const cell of column(key)) assert.doesNotMatch(cell, /^[=+\-@\t\r]/);
    assert.ok(column('side_m').includes('-2')); // a number stays one
    const notes = column('note').filter(Boolean).map((cell) => (/^'[=+\-@\t\r']/.test(cell) ? cell.slice(1) : cell));
    assert.deepEqual(notes.sort(), [...HOSTILE].sort());
    assert.equal(column('crossed').filter((cell) => cell === '1').length, 1);
    assert.equal(await page.evaluate(() => self.ran), undefined);
    assert.deepEqual(faults, []);
    await context.close();
});

test('A with B is B with A: the same state on both devices, and adding again adds nothing', async () => {
    const fix = { ...JSON.parse(DAYS[1][3]), id: 'e'.repeat(32), dev: '00000003', seq: 9000, kind: 'fix', of: JSON.parse(DAYS[0][3]).id, session: JSON.parse(DAYS[0][0]).id, body: { note: 'of the other device' } };
    const a = [...DAYS[0], ...DAYS[1]];
    const b = [...DAYS[1], ...DAYS[2], JSON.stringify(fix)];
    const states = [];
    for (const [first, second] of [[a, b], [b, a]]) {
        const { context, page } = await openScreen(browser, server.url, 'review');
        await add(page, first);
        await add(page, second);
        const both = await keptN(page, new Set([...a, ...b]).size);
        states.push(await stateOf(both));
        await choose(page, [...a, ...b]);
        await page.getByText('Nothing new in it').waitFor();
        assert.deepEqual(await countsOf(page), [0, both.length * 1 + (a.length + b.length - both.length), 0, 0]);
        await context.close();
    }
    assert.equal(states[0].length, 3);
    assert.deepEqual(states[0], states[1]);
});

test('a file is counted first: new, known, clashes, and bad lines by number; one press adds it, one takes it out again', async () => {
    const { context, page } = await openScreen(browser, server.url, 'review', { lines: DAYS[0] });
    const before = await stateIn(page);
    const clash = JSON.stringify({ ...JSON.parse(DAYS[0][2]), body: { spot: 'elsewhere' } });
    const mixed = [DAYS[0][1], 'not a line', ...DAYS[1], '{"v":1}', clash, DAYS[1][0].slice(0, 60)];
    await choose(page, mixed);
    await page.waitForSelector('.counted');
    assert.deepEqual(await countsOf(page), [DAYS[1].length, 1, 1, 3]);
    const bad = await page.locator('.bad-lines li').allInnerTexts();
    assert.deepEqual(bad.map((words) => Number(/^Line (\d+): \S/.exec(words)[1])), [2, DAYS[1].length + 3, mixed.length]);
    assert.equal((await kept(page)).length, DAYS[0].length); // looking stores nothing
    await choose(page, DAYS[1]);
    await button(page, `Add ${DAYS[1].length} entries`).click();
    await page.getByText(`Added ${DAYS[1].length} entries.`).waitFor();
    const n = DAYS[0].length + DAYS[1].length;
    await keptN(page, n);
    const after = await stateIn(page);
    assert.notDeepEqual(after, before);
    await button(page, 'cross out').click();
    await keptN(page, n + DAYS[1].length);
    const out = await stateIn(page);
    assert.deepEqual(out.find((one) => one.session === before[0].session), before[0]);
    assert.deepEqual(out.find((one) => one.session !== before[0].session).rows, []);
    await button(page, 'put back').click();
    await keptN(page, n + 2 * DAYS[1].length);
    assert.deepEqual(await stateIn(page), after);
    await context.close();
});

test('Print A5 prints the sheet by itself on one A5 page', async () => {
    const { context, page } = await openScreen(browser, server.url, 'review', {
        lines: DAYS[0],
        scripts: ['self.print = () => (self.nPrints = (self.nPrints ?? 0) + 1);'],
    });
    await button(page, 'Print A5').click();
    await page.waitForFunction(() => self.nPrints === 1);
    await page.emulateMedia({ media: 'print' });
    const seen = await page.evaluate(() =>
        [...document.body.children].filter((one) => one.getClientRects().length > 0).map((one) => one.className),
    );
    assert.deepEqual(seen, ['print-sheet a5']);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    assert.equal(pdf.match(/\/Type\s*\/Page\b/g).length, 1);
    const [, wide, high] = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(pdf);
    assert.ok(Math.abs(wide - (148 / 25.4) * 72) < 1 && Math.abs(high - (210 / 25.4) * 72) < 1, `${wide} x ${high} pt`);
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
    await page.waitForSelector('.print-sheet', { state: 'detached' });
    await context.close();
});

for (const look of LOOKS)
    test(`the review in ${look} at each size, all open: axe finds nothing, nothing is too wide or too small`, async () => {
        const { context, page, faults } = await openScreen(browser, server.url, 'review', { lines: DAYS.flat(), look });
        await page.waitForFunction(() => document.querySelectorAll('figure svg').length === 5);
        await button(page, 'Show the season').click();
        await page.waitForSelector('.why');
        await choose(page, [...DAYS[1].slice(0, 3), 'not a line']);
        await page.waitForSelector('.bad-lines');
        await page.evaluate(() => document.querySelectorAll('details').forEach((one) => (one.open = true)));
        await standsWell(page, look, SIZES, { hasTables: true });
        assert.deepEqual(faults, []);
        await context.close();
    });

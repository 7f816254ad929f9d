// Looking back: the core's words and drawings as they are, and nothing while there is nothing.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { askCore, session } from './bank.mjs';
import { browser, server, useBrowser } from './common.mjs';
import { SIZES, button, dayOf, openScreen, show, standsWellInAll } from './log.mjs';

useBrowser();

const DAY = 86_400;
/** Three closed days of two devices, made up for the tests. */
const DAYS = [1, 2, 3].map((k) =>
    session([...dayOf(k, 60), ['close']], { step: 90, ago: k * DAY, first: k * 1000, dev: k === 2 ? '0000beef' : '0badcafe' }),
);
const events = (...journals) => journals.flat().map((line) => JSON.parse(line));

test('with nothing entered nothing is invented', async () => {
    const { context, page, faults } = await openScreen(browser, server.url, 'review');
    await page.getByText('No session yet.').waitFor();
    assert.equal(await page.locator('figure, .sentences, .scroll').count(), 0);
    assert.doesNotMatch(await page.locator('main').innerText(), /\d/);
    assert.equal(await button(page, 'Copies').count(), 1);
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

test('sessions are picked from a list', async () => {
    const { context, page } = await openScreen(browser, server.url, 'review', { lines: DAYS.flat() });
    await page.waitForFunction(() => document.querySelectorAll('select option').length === 3);
    const oldest = JSON.parse(DAYS[2][0]).id;
    await page.locator('select').selectOption(oldest);
    const core = await askCore(events(...DAYS), 'review', { session: oldest });
    await page.waitForFunction((words) => document.querySelector('.sentences li')?.innerText === words, core.sentences[0]);
    await button(page, 'Its log').click();
    await page.waitForSelector('.rows li');
    assert.equal(await page.locator('.rows li').count(), 100);
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

test('23. the review in three looks at each size, all open: axe finds nothing, nothing is too wide or too small', async () => {
    const { context, page, faults } = await openScreen(browser, server.url, 'review', { lines: DAYS.flat() });
    await page.waitForFunction(() => document.querySelectorAll('figure svg').length === 5);
    await page.evaluate(() => document.querySelectorAll('details').forEach((one) => (one.open = true)));
    await standsWellInAll(page, SIZES, { hasTables: true });
    assert.deepEqual(faults, []);
    await context.close();
});

// A paper card typed up: coarse entries that say no more than the card did.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { counts, kept, keptN, openBank, session } from './bank.mjs';
import { browser, server, useBrowser } from './common.mjs';
import { SIZES, button, dayOf, field, openScreen, show, standsWellInAll, stateIn } from './log.mjs';

useBrowser();

const HALF_MS = 1_800_000;
const cell = (page, half, name) => page.locator('.half').nth(half).getByLabel(name, { exact: true });
const typeUp = async (page) => {
    await page.evaluate(() => (location.hash = 'typeup'));
    await page.waitForSelector('.half');
};

test('half hours of tallies become counts and put-ins, good to the half hour; one press takes the card out again', async () => {
    const { context, page, faults } = await openBank(browser, server.url);
    const before = await stateIn(page);
    await typeUp(page);
    await field(page, 'From').fill('09:00');
    await field(page, 'Bait fed').fill('micros-2');
    await cell(page, 0, 'Fish').fill('3');
    await cell(page, 0, 'FEED').fill('2');
    await cell(page, 1, 'Missed').fill('12');
    await cell(page, 1, 'Nothing').fill('4');
    await button(page, 'Log the card').click();
    const added = (await keptN(page, 5)).slice(1);
    const [start] = added.map(({ body }) => Date.parse(body.from));
    assert.match(added[0].body.from, /T09:00:00/);
    const { from, to, ...first } = added[0].body;
    assert.deepEqual(first, { landed: 3 });
    assert.equal(Date.parse(to) - Date.parse(from), HALF_MS);
    const feeds = added.filter(({ kind }) => kind === 'feed');
    assert.deepEqual(feeds.map(({ at }) => Date.parse(at) - start), [HALF_MS / 4, (3 * HALF_MS) / 4]);
    assert.ok(feeds.every(({ body }) => body.bait === 'micros-2'));
    const second = added.find(({ body }) => body.missed);
    assert.equal(Date.parse(second.body.from) - start, HALF_MS);
    assert.equal(second.body.nothing, 4);
    assert.ok(added.every(({ pm_s }) => pm_s === 900));
    await page.getByText('4 entries added from the card.').waitFor();
    assert.equal(await cell(page, 0, 'Fish').inputValue(), ''); // it cannot be logged twice by a second press
    await button(page, 'cross out').click();
    await keptN(page, 9);
    assert.deepEqual(await stateIn(page), before);
    await button(page, 'put back').click();
    await keptN(page, 13);
    await page.evaluate(() => (location.hash = 'bank'));
    await page.waitForSelector('.outcomes');
    const shown = await counts(page);
    assert.deepEqual([shown.fish, shown.missed, shown.nothing], [3, 12, 4]);
    assert.deepEqual(faults, []);
    await context.close();
});

test('what is no count is refused in a sentence, and what was typed outlives the page', async () => {
    const { context, page } = await openBank(browser, server.url);
    await typeUp(page);
    await field(page, 'From').fill('10:00');
    await cell(page, 1, 'Lost').fill('few');
    await button(page, 'Log the card').click();
    await page.getByRole('alert').filter({ hasText: 'Lost at 10:30 is "few"; accepted is a whole number from 0 to 9999.' }).waitFor();
    assert.equal((await kept(page)).length, 1);
    await show(page, server.url, 'typeup');
    await page.waitForFunction(() => [...document.querySelectorAll('.half input')].some((one) => one.value === 'few'));
    assert.equal(await field(page, 'From').inputValue(), '10:00');
    await context.close();
});

test('a card of a day without a session makes one, closed, that can be reviewed', async () => {
    const { context, page } = await openScreen(browser, server.url, 'typeup');
    await page.waitForSelector('.half');
    await field(page, 'Day').fill('2026-04-12');
    await field(page, 'Water').fill('Withy Pool');
    await field(page, 'Peg').fill('14');
    for (let half = 0; half < 4; half++) await cell(page, half, 'Fish').fill(String(half + 2));
    await button(page, 'Log the card').click();
    const events = await keptN(page, 6);
    assert.deepEqual(events.map(({ kind }) => kind), ['open', 'tally', 'tally', 'tally', 'tally', 'close']);
    assert.deepEqual(events[0].body, { venue: 'Withy Pool', peg: '14' });
    assert.ok(events.every(({ session: own }) => own === events[0].id));
    assert.match(events[0].at, /^2026-04-12T09:00:00/);
    assert.match(events.at(-1).at, /^2026-04-12T11:00:00/);
    await page.getByRole('link', { name: 'Review', exact: true }).click();
    await page.getByText('12 Apr 2026').first().waitFor();
    await page.waitForSelector('.sentences');
    await context.close();
});

test('23. typing up in three looks at each size: axe finds nothing, nothing is too wide, too small or over another', async () => {
    const { context, page, faults } = await openScreen(browser, server.url, 'typeup', { lines: session(dayOf(5, 20)) });
    await page.waitForSelector('.half');
    await standsWellInAll(page, SIZES);
    assert.deepEqual(faults, []);
    await context.close();
});

// A borrowed phone: the link, a plan out of a file, a session, everything back as one file, and then nothing is left on it.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { kept, keptN, openPage, press, startSession } from './bank.mjs';
import { browser, eventually, server, until, useBrowser } from './common.mjs';
import { choose, countsOf, download, joinFile, readBack, storeOf, textOf, tracesOf } from './copies.mjs';
import { button, field, openScreen, show } from './log.mjs';

useBrowser();

const PLAN = new URL('../../examples/withy-pool/peg-14.plan.json', import.meta.url);
const forget = (page) => button(page, 'Forget this phone');

test('a borrowed phone: link, plan, session, all given back and read again; then it is forgotten, and the file brings all back elsewhere', async () => {
    const { context, page, faults } = await openPage(browser, { width: 360, height: 700, serviceWorkers: 'allow' });
    await page.goto(`${server.url}#plan`);
    await button(page, 'Save plan').waitFor();
    await page.setInputFiles('[aria-label="The plan file"]', { name: 'peg-14.plan.json', mimeType: 'application/json', buffer: await readFile(PLAN) });
    await page.getByText(/ is open\.$/).waitFor();
    await button(page, 'Save plan').click();
    await page.getByText('is saved on this device.').waitFor();
    await page.goto('about:blank');
    await page.goto(`${server.url}#start`);
    await field(page, 'Water').fill('Withy Pool');
    await button(page, 'Start').click();
    await page.waitForSelector('.outcomes');
    for (const name of ['rig', 'missed', 'fish', 'feed']) await press(page, name);
    await keptN(page, 5);
    await show(page, server.url, 'copies');
    await page.getByText('A session is open: end it first.').waitFor();
    const early = await download(page, 'Everything as one file');
    await readBack(page, early.text);
    await page.getByText(/^All that is here is in /).waitFor();
    assert.ok(await forget(page).isDisabled()); // in a session never

    await show(page, server.url, 'log');
    await button(page, 'End session').click();
    await button(page, 'Keep').click();
    await keptN(page, 6);
    await show(page, server.url, 'copies');
    assert.ok(await forget(page).isDisabled());
    // Not by an older file, nor by the journal alone, nor by what is no file of ours.
    await readBack(page, early.text, 'early.jsonl');
    await page.getByText(/^early\.jsonl lacks 1 entry/).waitFor();
    await readBack(page, textOf((await storeOf(page)).events), 'journal.jsonl');
    await page.getByText(/^journal\.jsonl lacks the saved plans and settings/).waitFor();
    await readBack(page, 'not a file', 'other.txt');
    await page.getByText(/^other\.txt lacks /).waitFor();
    assert.ok(await forget(page).isDisabled());
    const { text } = await download(page, 'Everything as one file');
    await page.getByText('Every entry is in a copy.').waitFor();
    // A second window enters something between the reading and the press: it is found before anything goes.
    await readBack(page, text);
    await page.getByText(/^All that is here is in all\.everything\.jsonl: 6 entries, \d+ other things\.$/).waitFor();
    await page.evaluate(() =>
        new Promise((resolve) => {
            indexedDB.open('baitfall').onsuccess = ({ target }) => {
                const change = target.result.transaction('meta', 'readwrite');
                change.objectStore('meta').put(['a b'], 'twins');
                change.oncomplete = () => resolve(target.result.close());
            };
        }),
    );
    await forget(page).click();
    await page.getByText('lacks kept twins.').waitFor();
    assert.equal((await kept(page)).length, 6);

    const last = await download(page, 'Everything as one file');
    await page.evaluate(() => (localStorage['another.page'] = 'its own'));
    const other = await context.newPage();
    await other.goto(`${server.url}#review`);
    await other.waitForSelector('main');
    await readBack(page, last.text);
    await page.getByText(/^All that is here is in /).waitFor();
    const all = await storeOf(page);
    await forget(page).click();
    await page.getByText('This phone is forgotten.').waitFor();
    await page.getByText(/^6 entries and \d+ other things, and the files for use without a signal, have been taken off it\./).waitFor();
    assert.deepEqual(await tracesOf(page), { databases: [], caches: [], settings: ['another.page'], workers: 0 });
    await until(other, () => location.href === 'about:blank');
    assert.deepEqual(await tracesOf(page), { databases: [], caches: [], settings: ['another.page'], workers: 0 });
    await page.goto('about:blank');
    await page.goto(`${server.url}#review`);
    await page.getByText('No session yet.').waitFor();
    assert.deepEqual(faults, []);
    await context.close();

    // At home, on one's own phone.
    const own = await openScreen(browser, server.url, 'copies');
    await joinFile(own.page, last.text, 'all.everything.jsonl');
    const mine = await storeOf(own.page);
    assert.deepEqual(mine.events.sort(), all.events.sort());
    assert.deepEqual(mine.meta.plans, all.meta.plans);
    assert.deepEqual(mine.drafts, all.drafts);
    await choose(own.page, last.text, 'again.jsonl');
    assert.equal((await countsOf(own.page)).New, 0);
    await own.context.close();
});

test('a phone that cannot be cleared says what is left, and a shared copy counts when it is opened again', async () => {
    const SHARE = `
        if (self.navigator) {
            navigator.canShare = () => true;
            navigator.share = async ({ files }) => (self.shared = await files[0].text());
        }`;
    const { context, page } = await openPage(browser, { width: 360, height: 700, scripts: [SHARE], hasTouch: true, isMobile: true });
    await startSession(page, server.url);
    await page.evaluate(() => (location.hash = 'log'));
    await button(page, 'End session').click();
    await button(page, 'Keep').click();
    await keptN(page, 2);
    await show(page, server.url, 'copies');
    await button(page, 'Everything as one file').click();
    await page.getByText('Every entry is in a copy.').waitFor();
    await readBack(page, await page.evaluate(() => self.shared));
    await page.getByText(/^All that is here is in /).waitFor();
    await page.evaluate(() => (CacheStorage.prototype.delete = async () => false));
    await page.evaluate(async () => void (await caches.open('baitfall-left')));
    await forget(page).click();
    await page.getByText('Not all of it could be cleared: baitfall-left').waitFor();
    await eventually(async () => (await tracesOf(page)).databases.length === 0);
    await context.close();
});

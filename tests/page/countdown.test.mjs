// When to lower after FEED: the plan's wait against the time since, right at every look, and nothing moves for it.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { control, kept, keptN, openSeeded, press, stopClock, ticking } from './bank.mjs';
import { UNADVISED } from './bed.mjs';
import { browser, eventually, server, until, useBrowser } from './common.mjs';

useBrowser();

const SESSION = (0xabc001).toString(16).padStart(32, '0'); // of bank.mjs's lines, the first at 1
const PLANNED = {
    session: SESSION,
    pot: 'medium',
    wait_s: 40,
    feed: { spot: 'long', bait: 'soft two', fill_frac: 1, pot_m3: 8e-6, how: 'clump' },
};
const START_S = 30; // so long the session has been open

/** The Bank of a session that began with a plan; its clock stands still but for what a test moves it. */
async function openPlanned(carried = PLANNED, options = {}) {
    const opened = await openSeeded(browser, server.url, [], { hasClock: true, ago: START_S, ...UNADVISED, ...options });
    const { page } = opened;
    await page.evaluate(
        (value) =>
            new Promise((resolve) => {
                indexedDB.open('baitfall').onsuccess = ({ target }) => {
                    const database = target.result;
                    const change = database.transaction('meta', 'readwrite');
                    change.objectStore('meta').put(value, 'carried');
                    change.oncomplete = () => (database.close(), resolve());
                };
            }),
        carried,
    );
    await page.reload();
    await page.waitForSelector('.outcomes');
    await stopClock(page);
    return opened;
}

const mid = (page) => page.locator('.mid').innerText();
const rig = (page) => control(page, 'rig').locator('span').innerText();
const STEP_MS = 20;
/** The clock goes on, a little at a time, until it holds. */
const soon = (page, holds, given) => ticking(page, until(page, holds, given), STEP_MS);
/** What counts down shows what is left of the wait since FEED by the page's own clock: to a second, and a look more or less. */
const showsLeft = ([at, fedMs, waitS]) => {
    const [, now] = /in 0:(\d\d)$/.exec(document.querySelector(at).innerText) ?? [];
    return now !== undefined && Math.abs(Number(now) - (waitS - (Date.now() - fedMs) / 1000)) <= 2;
};
/** The clock goes on until it does. */
const counting = (page, where, fedMs) => soon(page, showsLeft, [where, fedMs, PLANNED.wait_s]);
const MID = '.mid';
const RIG = '[data-press=rig] span';
/** FEED, with its strip; when it went in. */
async function feed(page) {
    await press(page, 'feed');
    await page.locator('.strip').waitFor();
    await keptN(page, 2);
    return Date.parse((await kept(page)).at(-1).at);
}
const seconds = (words) => {
    const [, minutes, rest] = /in (\d+):(\d\d)$/.exec(words) ?? assert.fail(words);
    return 60 * Number(minutes) + Number(rest);
};
const boxes = (page) =>
    page.$$eval('.outcomes [data-press], .feedrow [data-press], .ways [data-press], .clock [data-press]', (all) =>
        all.map((one) => {
            const { left, top, width, height } = one.getBoundingClientRect();
            return [one.dataset.press, left, top, width, height].join(' ');
        }),
    );

test('after FEED it counts down to "now", says it once, and goes with RIG IN; no button moves', async () => {
    const { context, page, faults } = await openPlanned();
    assert.equal(await rig(page), 'out');
    const said = [];
    await page.exposeFunction('say', (words) => said.push(words));
    await page.evaluate(() => {
        const status = document.querySelector('[role=status]');
        new MutationObserver(() => window.say(status.innerText)).observe(status, { childList: true, characterData: true, subtree: true });
    });
    const fed = await feed(page);
    await counting(page, RIG, fed);
    const still = await boxes(page);
    await page.clock.runFor(9000); // the strip has gone
    await counting(page, MID, fed);
    const [inMid, onRig] = await page.evaluate(() => ['.mid', '[data-press=rig] span'].map((at) => document.querySelector(at).innerText));
    assert.equal(seconds(inMid), seconds(onRig));
    assert.deepEqual(await boxes(page), still);
    await page.clock.runFor(3000);
    await counting(page, MID, fed); // three seconds on
    await page.clock.runFor(32_000);
    await ticking(page, page.getByText('Lower now', { exact: true }).waitFor(), STEP_MS);
    assert.equal(await rig(page), 'now');
    assert.deepEqual(await boxes(page), still);
    await soon(page, () => document.querySelector('[role=status]').innerText === 'Lower now.');
    await eventually(() => said.includes('Lower now.')); // what was said comes over by itself
    await page.waitForTimeout(300);
    assert.equal(said.filter((words) => words === 'Lower now.').length, 1);
    await press(page, 'rig');
    await page.locator('.mid .lay').waitFor({ state: 'detached' });
    await press(page, 'nothing');
    await keptN(page, 4);
    await page.clock.runFor(2000);
    assert.doesNotMatch(await rig(page), /now|in /);
    assert.deepEqual(await boxes(page), still);
    assert.deepEqual(faults, []);
    await context.close();
});

test('while the page is hidden nothing runs; seen again, the first look is right', async () => {
    const { context, page } = await openPlanned();
    const fed = await feed(page);
    await page.clock.runFor(9000);
    await counting(page, MID, fed);
    await page.evaluate(() => {
        window.isAway = true;
        Object.defineProperty(document, 'hidden', { get: () => window.isAway });
        document.dispatchEvent(new Event('visibilitychange'));
        window.asked = 0;
        const post = Worker.prototype.postMessage;
        Worker.prototype.postMessage = function (...given) {
            window.asked++;
            return post.apply(this, given);
        };
    });
    await page.clock.runFor(1500); // what was on its way
    const asked = await page.evaluate(() => window.asked);
    await page.clock.runFor(5500);
    assert.equal(await page.evaluate(() => window.asked), asked, 'asked while hidden');
    await page.evaluate(() => {
        window.isAway = false;
        document.dispatchEvent(new Event('visibilitychange'));
    });
    await until(page, showsLeft, [MID, fed, PLANNED.wait_s]); // by a clock that stands
    await context.close();
});

test('it is gone when the feed is crossed out, and a minute after "now"', async () => {
    const { context, page } = await openPlanned();
    await feed(page);
    await press(page, 'undo');
    await until(page, () => document.querySelector('[data-press=rig] span').innerText === 'out');
    await press(page, 'feed');
    await page.clock.runFor(9000);
    await ticking(page, page.locator('.mid .lay').waitFor(), STEP_MS);
    await page.clock.runFor(100_000);
    await ticking(page, page.locator('.mid .lay').waitFor({ state: 'detached' }), STEP_MS);
    assert.equal(await rig(page), 'out');
    await context.close();
});

test('none for feed by hand, another bait, a session of another plan, a wait that is not known', async () => {
    const { feed: planned } = PLANNED;
    for (const carried of [
        { ...PLANNED, feed: { ...planned, how: 'hand' } },
        { ...PLANNED, session: 'f'.repeat(32) },
        { ...PLANNED, wait_s: null },
    ]) {
        const { context, page } = await openPlanned(carried);
        await press(page, 'feed');
        await keptN(page, 2);
        await page.clock.runFor(10_000);
        assert.equal(await page.locator('.mid .lay').count(), 0);
        assert.equal(await rig(page), 'out');
        await context.close();
    }
    const { context, page } = await openSeeded(browser, server.url, [['feed', { bait: 'hard four', count: 10, how: 'clump' }]], { hasClock: true });
    assert.equal(await page.locator('.mid .lay').count(), 0);
    await context.close();
});

test('FEED puts in what the plan says, until something else is fed', async () => {
    const { context, page } = await openPlanned({
        ...PLANNED,
        feed: { spot: 'short', bait: 'hard four', count: 15, how: 'clump' },
    });
    assert.match(await control(page, 'feed').innerText(), /15 pieces/);
    await press(page, 'feed');
    const [, fed] = await keptN(page, 2);
    assert.deepEqual(fed.body, { spot: 'short', bait: 'hard four', count: 15, how: 'clump' });
    await page.locator('.strip').waitFor();
    await press(page, 'strip-1'); // twice as much
    await until(page, () => /30 pieces/.test(document.querySelector('[data-press=feed]').innerText));
    await context.close();
});

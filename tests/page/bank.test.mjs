// The Bank as a whole: ways in and out, what completes an entry, what takes it back, sheets that drop nothing, what is said,
// the Rest screen, and how all of it stands in three looks.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { axeFaults, smallControls, standsWellInAll } from './log.mjs';
import { ROUTES } from './screens.mjs';
import { collidingTexts, cutTexts, laidOut, overhang } from './looks.mjs';
import { OUTCOMES, askCore, isLong, control, count, counted, counts, kept, keptAtRest, keptN, middle, openBank, openPage, openSeeded, finger, press, pressUndo, startSession, stopClock, ticking } from './bank.mjs';
import { UNADVISED } from './bed.mjs';
import { browser, eventually, server, until, useBrowser } from './common.mjs';

useBrowser();

const SIZES = [
    [320, 640],
    [360, 700],
    [1280, 800],
];
const screenOf = (page) => page.evaluate(() => location.hash.slice(1));

test('the first look offers the jobs; once a session is open, every start of the page goes straight to the Bank', async () => {
    const { context, page, faults } = await openPage(browser);
    await page.goto(`${server.url}#pot`); // no stranger any more
    await page.getByRole('link', { name: 'Home' }).click();
    await page.getByRole('link', { name: /^In the pot/ }).waitFor();
    const jobs = await page.locator('.jobs a b').allInnerTexts();
    assert.deepEqual(jobs, ['Plan tomorrow', 'Kit', 'In the pot', 'At the peg', 'Start at the peg', 'Look back', 'Season', 'Trial', 'Copies', 'Rehearse', 'An invented day', 'Settings']);
    await startSession(page, server.url);
    for (const route of ['', '#start', '#nonsense']) {
        await page.goto('about:blank');
        await page.goto(`${server.url}${route}`);
        await page.waitForSelector('.outcomes');
        assert.equal(await screenOf(page), 'bank');
    }
    assert.deepEqual(faults, []);
    await context.close();
});

test('all the cautions stand on the way into a session, power lines first; starting acknowledges them, and they do not come again', async () => {
    const { context, page } = await openPage(browser);
    await page.goto(`${server.url}#start`);
    const cautions = page.locator('.caution p');
    await cautions.first().waitFor();
    const { notes } = await askCore([], 'peg', {});
    assert.deepEqual(notes.map(({ code }) => code), ['power-lines', 'cold-water', 'hooks', 'fish-first']);
    assert.match(notes[0].text, /overhead power lines/);
    assert.deepEqual(await cautions.allInnerTexts(), notes.map(({ text }) => text));
    const start = page.getByRole('button', { name: 'Start', exact: true });
    const { y, height } = await start.boundingBox();
    assert.ok(y + height <= 640, 'Start is on the screen without scrolling');
    await start.click();
    await page.waitForSelector('.outcomes');
    await page.reload();
    await page.waitForSelector('.outcomes');
    assert.equal(await page.getByText(notes[0].text).count(), 0);
    await context.close();
});

test('the next session is offered at the same water, with what came of it there', async () => {
    const { context, page } = await openSeeded(browser, server.url, [['lift', { outcome: 'landed' }], ['close']], { until: '.jobs' });
    await page.getByRole('link', { name: /^Start at the peg/ }).click();
    await page.getByRole('region', { name: 'Last time here' }).waitFor();
    assert.equal(await page.getByLabel('Water', { exact: true }).inputValue(), 'Withy Pool');
    assert.equal(await page.getByLabel('Peg', { exact: true }).inputValue(), '');
    await context.close();
});

test('18. back from every screen, ten times: never out of an open session without landing on the Bank, and forward works', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'fish');
    await counted(page, 'fish', 1);
    for (const route of ['bed', 'log', 'rest']) {
        await page.goto('about:blank');
        await page.goto(server.url);
        await page.waitForSelector('.outcomes');
        await press(page, 'more');
        await press(page, `go-${route}`);
        await page.waitForFunction((wanted) => location.hash === wanted, `#${route}`);
        const visited = [];
        for (let i = 0; i < 10; i++) {
            await page.goBack({ waitUntil: 'commit' }).catch(() => null);
            if (!page.url().startsWith(server.url)) break;
            visited.push(await screenOf(page));
        }
        assert.equal(visited[0], 'bank', `${route}: ${visited}`);
        assert.ok(visited.every((one) => one === 'bank'), `${route}: ${visited}`);
        for (let i = 0; i < 10; i++) {
            await page.goForward({ waitUntil: 'commit' }).catch(() => null);
        }
        await page.waitForFunction((wanted) => location.hash === wanted && document.querySelector('main'), `#${route}`);
        await page.goBack();
        await page.waitForSelector('.outcomes');
        assert.equal(await count(page, 'fish'), 1);
    }
    // Any other screen: its own way or address, and back.
    for (const route of ROUTES.filter((one) => !['', 'bank', 'peg', 'start', 'rehearse', 'rest'].includes(one))) {
        await page.evaluate((word) => (location.hash = word), route);
        await until(page, (word) => location.hash === `#${word}` && !document.querySelector('.outcomes') && document.querySelector('h1'), route);
        await page.evaluate(() => history.back());
        await until(page, () => location.hash === '#bank' && document.querySelector('.outcomes') !== null);
        assert.equal(await count(page, 'fish'), 1, route);
    }
    // Screens give way to each other, so that back is the Bank from any of them.
    await press(page, 'more');
    await press(page, 'go-log');
    await page.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: 'Review' }).click();
    await page.waitForFunction(() => location.hash === '#review');
    await page.goBack();
    await page.waitForSelector('.outcomes');
    // A screen opened by its own address has the Bank under it too.
    await page.goto('about:blank');
    await page.goto(`${server.url}#log`);
    await page.waitForFunction(() => document.querySelector('h1')?.innerText === 'Log');
    await page.goBack();
    await page.waitForSelector('.outcomes');
    await context.close();
});

test('31. 25 entries of every kind, twenty crossed out and put back: after each pair the journal says the same', async () => {
    const { context, page } = await openBank(browser, server.url, { hasClock: true });
    await stopClock(page); // the strips stay until they are pressed
    const kinds = [...OUTCOMES, 'feed', 'rig'];
    for (let i = 0; i < 25; i++) {
        await press(page, kinds[i % kinds.length]);
        if (i === 6) await press(page, 'strip-0'); // half a pot: a correction that belongs to the feed
        if (i === 8) {
            await press(page, 'strip-1');
            await press(page, 'strip-2');
        }
    }
    const events = await keptN(page, 29);
    await counted(page, 'fish', 4); // and the last press, a fish, is on the strip
    const now = new Date(Date.now() + 60_000).toISOString();
    const state = async () => {
        const bank = await askCore(await kept(page), 'bank', { now, dev: events[0].dev });
        delete bank.session.n_events; // corrections are events too
        return bank;
    };
    const start = await state();
    const named = () => page.locator('.undo-two .named, .undo .named').first().innerText();
    for (let pair = 0; pair < 2; pair++) {
        const first = await named();
        await pressUndo(page, 'undo');
        await pressUndo(page, 'back');
        assert.equal(await named(), first);
    }
    assert.deepEqual(await state(), start);

    await pressUndo(page, 'undo');
    for (let i = 1; i < 20; i++) await pressUndo(page, 'undo-more');
    let all = await keptN(page, 29 + 4 + 20);
    const crossed = await state();
    assert.equal(crossed.undo.filter((act) => act.is_crossed).length, 20);
    const sum = (bank) => Object.values(bank.counts).reduce((a, b) => a + b, 0);
    assert.ok(sum(crossed) < sum(start));
    for (let i = 0; i < 20; i++) {
        await pressUndo(page, 'back');
        all = await keptN(page, 29 + 4 + 20 + i + 1);
    }
    assert.deepEqual(await state(), start);
    assert.equal(all.filter(({ kind }) => kind === 'restore').length, 22);
    await control(page, 'undo').waitFor();
    await context.close();
});

test('the strips complete the entry before: species, size, feed; left alone they go away after eight seconds', async () => {
    const { context, page } = await openPage(browser, { hasClock: true, ...UNADVISED });
    await startSession(page, server.url);
    await stopClock(page); // a strip stands for eight seconds of the page's own time, however slow the machine
    const strip = page.locator('.bank .strip');
    await press(page, 'fish');
    assert.equal(await strip.getAttribute('aria-label'), 'Which fish');
    await page.clock.runFor(7900);
    assert.equal(await strip.count(), 1);
    await page.clock.runFor(200);
    await strip.waitFor({ state: 'detached' });
    await press(page, 'fish');
    await press(page, 'strip-2');
    assert.equal(await strip.getAttribute('aria-label'), 'How big');
    await press(page, 'strip-3');
    await press(page, 'feed');
    await strip.getByRole('button', { name: 'half as much' }).click();
    await until(page, () => /half pot/.test(document.querySelector('[data-press=feed]').innerText));
    await page.clock.fastForward(60_000);
    await press(page, 'feed'); // the same as last time
    await strip.getByRole('button', { name: 'twice as much' }).click();
    await until(page, () => !/half pot/.test(document.querySelector('[data-press=feed]').innerText));
    await page.clock.fastForward(60_000);
    await press(page, 'feed');
    await strip.getByRole('button', { name: 'by catapult' }).click();
    await press(page, 'foul');
    await strip.getByRole('button', { name: 'body' }).click();
    const events = await keptN(page, 13);
    const fixes = events.filter(({ kind }) => kind === 'fix').map(({ body }) => body);
    assert.deepEqual(fixes, [
        { species: 'skimmer' },
        { size: 'four_lb' },
        { fill_frac: 0.5 },
        { fill_frac: 1 },
        { how: 'throw' },
        { held: 'body' },
    ]);
    const bank = await askCore(events, 'bank', { now: events.at(-1).at });
    assert.equal(bank.last_feed.how, 'throw');
    assert.equal(bank.counts.fish, 2);
    assert.equal(bank.nets[0]?.n_fish ?? 2, 2);
    await context.close();
});

test('32. the weigh pad drops nothing: touches anywhere, swipes, a reload, and it is still keyed; then it is the fish\u2019s weight', async () => {
    const { context, page } = await openBank(browser, server.url, { hasTouch: true, hasClock: true });
    await stopClock(page); // the strips stay until they are pressed
    await press(page, 'fish');
    await press(page, 'strip-0');
    await page.getByRole('button', { name: 'weigh', exact: true }).click();
    for (const digit of ['key-4', 'key--', 'key-6']) await press(page, digit);
    const keyed = page.locator('.keyed');
    assert.equal(await keyed.innerText(), '4 lb 6 oz');
    const thumb = await finger(page);
    const outside = await page.evaluate(() => {
        const points = [];
        for (let y = 4; y < 640; y += 24)
            for (let x = 4; x < 320; x += 24)
                if (!document.elementFromPoint(x, y)?.closest('[data-press]')) points.push([x, y]);
        return points;
    });
    assert.ok(outside.length > 20);
    for (const [x, y] of outside.filter((_, i) => i % 12 === 0)) await page.mouse.click(x, y);
    await thumb.tap(2, 300, { toX: 200, toY: 300 }); // from the edge
    await thumb.tap(160, 60, { toX: 160, toY: 600 }); // pull down
    await page.waitForTimeout(200);
    assert.equal(await keyed.innerText(), '4 lb 6 oz');
    assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).overscrollBehaviorY), 'none');
    await page.clock.resume();
    await page.reload();
    await keyed.waitFor();
    assert.equal(await keyed.innerText(), '4 lb 6 oz');
    await press(page, 'pad-close');
    await page.getByRole('button', { name: /^Weigh Fish .*4 lb 6 oz/ }).click();
    await press(page, 'key-9'); // there is no 69 oz
    assert.equal(await keyed.innerText(), '4 lb 6 oz');
    await press(page, 'keep-mass');
    await keyed.waitFor({ state: 'detached' });
    const events = await keptN(page, 4);
    const fish = events.find(({ kind }) => kind === 'lift');
    const fix = events.at(-1);
    assert.equal(fix.of, fish.id);
    assert.ok(Math.abs(fix.body.mass_kg - (4 + 6 / 16) * 0.45359237) < 1e-4); // the international pound
    await page.reload();
    await page.waitForSelector('.outcomes'); // and the draft is gone
    await context.close();
});

test('the net: a warning before the limit, one press changes it, and the change can be crossed out', async () => {
    const { context, page } = await openSeeded(
        browser,
        server.url,
        [['net', { net: 1 }], ...Array.from({ length: 9 }, () => ['lift', { outcome: 'landed', species: 'carp', guess_kg: 2.4 }])],
        { opening: { nets: 3, net_limit_kg: 22.7 } },
    );
    await page.getByRole('button', { name: /Change to net 2/ }).click();
    const events = await keptN(page, 12);
    assert.deepEqual(events.at(-1).body, { net: 2 });
    await page.getByRole('button', { name: /^Net 2/ }).waitFor(); // on the undo strip
    assert.equal(await page.getByText('Change to net 2').count(), 0);
    await press(page, 'undo');
    await page.getByRole('button', { name: /Change to net 2/ }).waitFor();
    await context.close();
});

test('the same fish entered on two devices is asked about, and one press makes it one', async () => {
    const lift = ['lift', { outcome: 'landed', spot: 'long' }];
    const { context, page } = await openSeeded(browser, server.url, [lift, lift], { step: 8, otherDevice: [2] });
    assert.equal(await count(page, 'fish'), 2);
    await page.getByRole('group', { name: /from another device/ }).getByRole('button', { name: /^the same fish/ }).click();
    await counted(page, 'fish', 1);
    await page.getByText('Same fish?').waitFor({ state: 'detached' });
    await context.close();
});

test('35. each entry is said once within half a second, the focus stays, and it is felt where the device can', async () => {
    const scripts = ['window.pulses = []; navigator.vibrate = (pulse) => window.pulses.push(pulse);'];
    const { context, page } = await openBank(browser, server.url, { hasClock: true, scripts });
    await page.evaluate(() => {
        window.said = [];
        const status = document.querySelector('[role=status]');
        new MutationObserver(() => status.innerText !== (window.said.at(-1) ?? '') && window.said.push(status.innerText)).observe(status, { childList: true, characterData: true, subtree: true });
    });
    await stopClock(page); // said within half a second of the page's own time, however slow the machine
    await control(page, 'missed').focus();
    await page.keyboard.press('Enter');
    await page.clock.runFor(490);
    await until(page, () => window.said.length === 1);
    await counted(page, 'missed', 1);
    await page.clock.runFor(2000);
    const said = await page.evaluate(() => window.said);
    assert.equal(said.length, 1);
    assert.match(said[0], /^Missed logged \d\d:\d\d\. Cross out is ready\.$/);
    assert.equal(await page.evaluate(() => document.activeElement.dataset.press), 'missed');
    await press(page, 'undo');
    await until(page, () => window.said.length === 2);
    assert.deepEqual(await page.evaluate(() => window.pulses), [40, [40, 60, 40]]);
    assert.equal(await page.getByRole('status').count(), 1);
    assert.equal(await page.locator('h1').count(), 1);
    await context.close();
});

test('37. a pressed button turns over at once, before anything is stored', async () => {
    const { context, page } = await openBank(browser, server.url);
    const flashed = await page.evaluate(() => {
        const button = document.querySelector('[data-press=lost]');
        const { left, top } = button.getBoundingClientRect();
        const at = { bubbles: true, pointerId: 1, pointerType: 'mouse', button: 0, clientX: left + 60, clientY: top + 40 };
        button.dispatchEvent(new PointerEvent('pointerdown', at));
        button.dispatchEvent(new PointerEvent('pointerup', at));
        const style = getComputedStyle(button);
        return [button.classList.contains('hit'), style.backgroundColor, button.querySelector('.c').innerText];
    });
    assert.deepEqual(flashed, [true, 'rgb(13, 31, 40)', '0']);
    await counted(page, 'lost', 1);
    await page.locator('.hit').waitFor({ state: 'detached' });
    await context.close();
});

test('Rest: one press anywhere opens the Bank and enters nothing; it is dark, or white in the sun with what that costs', async () => {
    const { context, page } = await openBank(browser, server.url, { hasTouch: true });
    await press(page, 'missed');
    await counted(page, 'missed', 1);
    const thumb = await finger(page);
    const missed = await middle(page, 'missed');
    const ground = () => page.locator('.rest').evaluate((rest) => getComputedStyle(rest).backgroundColor);
    await press(page, 'more');
    await press(page, 'go-rest');
    await page.locator('.rest').waitFor();
    assert.equal(await ground(), 'rgb(10, 19, 24)');
    const digit = await page.locator('.rest .n').last().evaluate((n) => parseFloat(getComputedStyle(n).fontSize));
    assert.ok(digit >= 96);
    await thumb.tap(...missed, { ms: 60 }); // where Missed will be
    await page.waitForSelector('.outcomes');
    assert.equal((await keptAtRest(page)).length, 2);
    assert.equal(await page.locator('.hit').count(), 0);
    await page.waitForTimeout(300); // until presses count again
    await press(page, 'look'); // from shade to dusk
    await press(page, 'look'); // and to sun
    await press(page, 'more');
    await press(page, 'go-rest');
    await page.locator('.rest').waitFor();
    assert.equal(await ground(), 'rgb(255, 255, 255)');
    assert.match(await page.locator('.rest').innerText(), /four times the power/);
    await context.close();
});

test('just after Rest a press is swallowed for a quarter of a second', async () => {
    const { context, page } = await openBank(browser, server.url, { hasClock: true });
    await press(page, 'more');
    await press(page, 'go-rest');
    await page.locator('.rest').waitFor();
    await stopClock(page);
    await page.locator('.rest').evaluate((rest) => rest.click());
    await page.waitForSelector('.outcomes');
    for (const [ms, hits] of [[50, 0], [190, 0], [20, 1]]) {
        await page.clock.runFor(ms);
        await control(page, 'missed').evaluate((missed) => missed.click());
        assert.equal(await page.locator('.hit').count(), hits, `after ${ms} ms more`);
    }
    await counted(page, 'missed', 1);
    await context.close();
});

/** Counts frames that are asked for, looks for where the phone is, and the moments at which something on a screen changes. */
const QUIET = `
    navigator.geolocation.getCurrentPosition = navigator.geolocation.watchPosition = () => self.places++;
    self.places = 0;
    self.watchQuiet = (selector) => {
        self.frames = 0;
        self.paints = new Set();
        const ask = self.ownFrame ??= self.requestAnimationFrame.bind(self);
        self.requestAnimationFrame = (work) => (self.frames++, ask(work));
        new MutationObserver(() => self.paints.add(Math.floor(performance.now() / 100)))
            .observe(document.querySelector(selector), { subtree: true, childList: true, characterData: true, attributes: true });
    };`;
const heap = async (cdp) => {
    await cdp.send('HeapProfiler.collectGarbage');
    return (await cdp.send('Runtime.getHeapUsage')).usedSize;
};
const QUIET_MIN = isLong ? 30 : 2;
test(`39. ${QUIET_MIN} quiet minutes: Rest is repainted twelve times a minute at most, the Bank once a second; no frames, no requests, no places, no more memory`, async () => {
    const { context, page } = await openPage(browser, { hasClock: true, scripts: [QUIET] });
    await startSession(page, server.url);
    await press(page, 'missed');
    await counted(page, 'missed', 1);
    await press(page, 'more');
    await press(page, 'go-rest');
    await page.locator('.rest').waitFor();
    const asked = [];
    // The browser fetches the tab's icon by itself, once, when it likes.
    page.on('request', (request) => /\/icon-/.test(request.url()) || asked.push(request.url()));
    const fetched = (what) => asked.filter((url) => what.test(url)).length;
    const cdp = await context.newCDPSession(page);
    await stopClock(page);
    for (const [screen, most] of [['.rest', 12], ['.bank', 60]]) {
        if (screen === '.bank') {
            await page.locator('.rest').evaluate((rest) => rest.click());
            await page.waitForSelector('.outcomes');
            // Nobody having looked for two minutes, the worker of its advice is fetched anew, with its core.
            await eventually(async () => {
                await page.clock.runFor(1000);
                return fetched(/\?belief$/) && fetched(/\.wasm$/);
            });
            assert.deepEqual([fetched(/\?belief$/), fetched(/\.wasm$/)], [1, 1]);
            assert.deepEqual(asked.filter((url) => !/\?belief$|\.wasm$/.test(url)), []);
            asked.length = 0;
        }
        await page.clock.runFor(1000);
        await page.evaluate((selector) => self.watchQuiet(selector), screen);
        const before = await heap(cdp);
        for (let s = 0; s < 60 * QUIET_MIN; s++) await page.clock.runFor(1000);
        const { paints, frames, places } = await page.evaluate(() => ({ paints: self.paints.size, frames: self.frames, places: self.places }));
        assert.ok(paints >= QUIET_MIN && paints <= most * QUIET_MIN, `${screen} is repainted ${paints} times`);
        assert.ok(frames <= 2 * paints, `${screen} asks for ${frames} frames`);
        assert.equal(places, 0);
        assert.deepEqual(asked, [], screen);
        assert.ok((await heap(cdp)) - before < 1e6, `${screen} keeps ${(await heap(cdp)) - before} bytes`);
    }
    await context.close();
});

/** Waits until no button is turned over any more; the page's clock is its own. */
async function turnedBack(page) {
    await page.clock.fastForward(350);
    await page.locator('.hit').waitFor({ state: 'detached' });
}

/** The Bank in its states; each leaves it ready for the next. */
const STATES = {
    fresh: async () => undefined,
    fish: async (page) => press(page, 'fish'),
    size: async (page) => press(page, 'strip-0'),
    pad: async (page) => {
        await press(page, 'strip-4');
        await press(page, 'key-4');
        await page.locator('.keyed').waitFor();
    },
    feed: async (page) => {
        await press(page, 'keep-guess');
        await press(page, 'feed');
    },
    crossed: async (page) => {
        await press(page, 'undo');
        await control(page, 'back').waitFor();
    },
    ways: async (page) => {
        if (await control(page, 'more').isVisible()) await press(page, 'more');
    },
    locked: async (page) => {
        await press(page, 'lock');
        await page.locator('.bank.locked').waitFor();
    },
};

/** Texts of the Bank that are smaller than 20 px. */
const smallTexts = (page) =>
    page.evaluate(() =>
        [...document.querySelectorAll('.bank *')]
            .filter((one) => !one.closest('.hide') && [...one.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim()))
            .filter((one) => parseFloat(getComputedStyle(one).fontSize) < 20)
            .map((one) => one.outerHTML.slice(0, 80)),
    );

test('23. the Bank in three looks at each size: axe finds nothing, nothing is cut, covered or too small', async () => {
    const { context, page, faults } = await openBank(browser, server.url, { hasClock: true });
    const axe = (own) => ticking(own, axeFaults(own));
    await stopClock(page); // what stands for a few seconds stands until it was looked at
    for (const [turn, [name, go]] of Object.entries(STATES).entries()) {
        await page.setViewportSize({ width: 320, height: 640 });
        await go(page);
        await turnedBack(page);
        const also = async (at) => {
            assert.deepEqual(await cutTexts(page), [], at);
            assert.deepEqual(await smallTexts(page), [], `${at}: nothing under 20 px`);
        };
        await standsWellInAll(page, SIZES, { name, turn, axe, also });
    }
    assert.deepEqual(faults, []);
    await context.close();
});

test('23. first look, start and Rest in three looks: axe finds nothing, nothing is cut or covered', async () => {
    const { context, page, faults } = await openPage(browser, { serviceWorkers: 'allow' });
    await page.goto(server.url);
    const check = async (name, turn) => {
        await standsWellInAll(page, SIZES, { name, turn });
        await page.setViewportSize({ width: 360, height: 700 });
    };
    await page.getByText(/^Ready offline: (yes|no)/).waitFor();
    await check('first look', 0);
    await page.getByRole('link', { name: /^Start at the peg/ }).click();
    await page.locator('.caution').first().waitFor();
    await page.locator('details').evaluate((details) => (details.open = true));
    await check('start', 1);
    await page.getByRole('button', { name: 'Start', exact: true }).click();
    await page.waitForSelector('.outcomes');
    await press(page, 'missed');
    await press(page, 'go-rest');
    await page.locator('.rest').waitFor();
    await check('rest', 2);
    assert.deepEqual(faults, []);
    await context.close();
});

test('21. text of twice the size on the Bank: nothing is cut, covered or too wide, and every button is there', async () => {
    const { context, page } = await openBank(browser, server.url, { width: 360, height: 700 });
    const cdp = await context.newCDPSession(page);
    await cdp.send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
    await page.reload();
    await page.waitForSelector('.outcomes');
    await press(page, 'fish');
    await counted(page, 'fish', 1);
    assert.ok((await overhang(page)) <= 0);
    assert.deepEqual(await cutTexts(page), []);
    assert.deepEqual(await collidingTexts(page), []);
    assert.deepEqual(await smallControls(page), []);
    assert.deepEqual(Object.keys(await counts(page)), OUTCOMES);
    await context.close();
});

test('20. in landscape at 640 x 320 all six, FEED, RIG IN and undo are on the screen, and nothing is cut or covered', async () => {
    const { context, page } = await openBank(browser, server.url, { width: 640, height: 320, hasClock: true });
    const check = async (name) => {
        await turnedBack(page);
        assert.ok((await overhang(page)) <= 0, name);
        assert.deepEqual(await cutTexts(page), [], name);
        assert.deepEqual(await collidingTexts(page), [], name);
        const boxes = await page.$$eval('.outcomes button, .feedrow button, .undo', (all) =>
            all.map((one) => one.getBoundingClientRect().bottom),
        );
        assert.ok(boxes.length >= 9 && Math.max(...boxes) <= 320, `${name}: ${Math.max(...boxes)}`);
    };
    for (const name of ['fish', 'strip-0', 'feed', 'undo', 'lock']) {
        await press(page, name);
        await check(name);
    }
    await context.close();
});

test('20. under the rounded corners of a phone, upright and across, and over its keyboard, nothing that is pressed is hidden', async () => {
    const { context, page } = await openBank(browser, server.url, { width: 360, height: 700 });
    const cdp = await context.newCDPSession(page);
    const INSETS = [
        [360, 700, { top: 30, right: 0, bottom: 24, left: 0 }],
        [390, 844, { top: 47, right: 0, bottom: 34, left: 0 }],
        [740, 360, { top: 0, right: 44, bottom: 24, left: 44 }],
    ];
    /** What of all that is pressed lies under a corner or beyond the window, and how many were looked at. */
    const hidden = (where, insets) =>
        page.$$eval(where, (all, side) => {
            const shown = all.filter((one) => one.getClientRects().length > 0);
            const under = shown.filter((one) => {
                const box = one.getBoundingClientRect();
                return box.left < side.left || box.top < side.top || box.right > innerWidth - side.right || box.bottom > innerHeight - side.bottom;
            });
            return { n: shown.length, under: under.map((one) => one.innerText) };
        }, insets);
    const at = async (width, height, insets) => {
        await cdp.send('Emulation.setSafeAreaInsetsOverride', { insets });
        await page.setViewportSize({ width, height });
        await until(page, ([wide, high]) => innerWidth === wide && innerHeight === high, [width, height]);
        await laidOut(page);
    };
    for (const [width, height, insets] of INSETS) {
        await at(width, height, insets);
        const { n, under } = await hidden('.bank :is(button, a)', insets);
        assert.ok(n >= 11, `${n} are shown`);
        assert.deepEqual(under, [], `${width} x ${height}`);
        assert.equal(await page.evaluate(() => document.documentElement.scrollHeight - innerHeight), 0, `${width} x ${height} without scrolling`);
    }
    await press(page, 'missed');
    const [width, height, insets] = INSETS[0];
    await at(width, height, insets);
    for (const [route, where] of [['rest', '.rest button'], ['log', '.top :is(button, a), .live button, .tabs a']]) {
        await page.evaluate((word) => (location.hash = word), route);
        await page.locator(where).first().waitFor();
        assert.deepEqual((await hidden(where, insets)).under, [], route);
    }
    await at(360, 700, {});
    await page.locator('.rows .entry').first().click();
    await page.getByLabel('Time', { exact: true }).focus();
    await page.setViewportSize({ width: 360, height: 330 }); // what a keyboard leaves of it
    for (const one of [page.getByLabel('Time', { exact: true }), page.getByRole('button', { name: 'Keep', exact: true })]) {
        await one.scrollIntoViewIfNeeded();
        const hit = await one.evaluate((element) => {
            const { left, top, width, height } = element.getBoundingClientRect();
            return element.contains(document.elementFromPoint(left + width / 2, top + height / 2));
        });
        assert.ok(hit);
    }
    await context.close();
});

test('23. with forced colours and reduced motion the Bank keeps its edges, and nothing moves', async () => {
    const { context, page } = await openBank(browser, server.url, { forcedColors: 'active', reducedMotion: 'reduce' });
    const edges = await page.$$eval('.bank button:not([disabled])', (all) =>
        all.filter((one) => one.getClientRects().length > 0).map((one) => parseFloat(getComputedStyle(one).borderTopWidth)),
    );
    assert.ok(edges.length >= 11 && edges.every((edge) => edge >= 2));
    const moving = await page.evaluate(
        () =>
            [...document.querySelectorAll('*')].filter((one) => {
                const style = getComputedStyle(one);
                return parseFloat(style.transitionDuration) > 0 || style.animationName !== 'none';
            }).length,
    );
    assert.equal(moving, 0);
    await context.close();
});

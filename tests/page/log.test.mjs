// The Log: the past is put right without moving by itself, nothing typed is ever lost, everything can be taken back.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { OUTCOMES, counted, counts, isLong, kept, keptAtRest, keptN, openBank, press, pressUndo, session } from './bank.mjs';
import { browser, server, useBrowser } from './common.mjs';
import { SIZES, button, dayOf, entry, field, misplaced, openScreen, show, standsWellInAll, stateIn, stateOf } from './log.mjs';
import { overhang } from './looks.mjs';

useBrowser();

const toLog = async (page) => {
    await page.evaluate(() => (location.hash = 'log'));
    await page.waitForSelector('.rows li');
};
const CHIPS = [
    ['\u22121', 1, 20],
    ['\u22122', 2, 30],
    ['\u22125', 5, 60],
    ['\u221210', 10, 120],
];
/** Both clocks of the page run ahead by what `skip` says. */
const SKIP = `
    self.skip = 0;
    const wall = Date.now.bind(Date), mono = performance.now.bind(performance);
    Date.now = () => wall() + self.skip;
    performance.now = () => mono() + self.skip;`;
const clockMs = (text) => text.split(':').reduce((ms, part) => ms * 60 + Number(part), 0) * 1000;
const DAY_MS = 86_400_000;
const before_ = (held, shown) => (((clockMs(held) - clockMs(shown)) % DAY_MS) + DAY_MS) % DAY_MS;
/** The chip to be pressed: those of the sheet, not entries. */
const chip = (page, name) => page.getByRole('group', { name: 'Minutes earlier' }).getByRole('button', { name, exact: true });

test('16. putting a time right: the proposed time stands still while a minute goes by, chips are exact, give or take goes with them', async () => {
    const { context, page, faults } = await openBank(browser, server.url, { scripts: [SKIP], serviceWorkers: 'block' });
    await press(page, 'missed');
    await toLog(page);
    const missed = (await keptN(page, 2)).at(-1);
    await entry(page, 'Missed').click();
    const held = await field(page, 'Time').inputValue();
    assert.equal(held, missed.at.slice(11, 19));
    await page.evaluate(() => (self.skip = 70_000));
    await button(page, /^FEED/).click(); // and the screen has been drawn again
    await keptN(page, 3);
    await page.waitForTimeout(100);
    assert.equal(await field(page, 'Time').inputValue(), held);
    for (const [name, minutes] of CHIPS) {
        await chip(page, name).click();
        assert.equal(before_(held, await field(page, 'Time').inputValue()), minutes * 60_000, name);
    }
    await chip(page, '\u22125').click();
    await button(page, 'Keep').click();
    const fix = (await keptN(page, 4)).at(-1);
    assert.equal(fix.kind, 'fix');
    assert.equal(fix.of, missed.id);
    assert.equal(Date.parse(fix.body.at), Date.parse(missed.at) - 300_000);
    assert.deepEqual({ ...fix.body, at: '' }, { at: '', pm_s: 60 });
    assert.deepEqual(faults, []);
    await context.close();
});

test('16. adding what was missed: now is held from the opening, every chip gives its offset and its give or take', async () => {
    const { context, page } = await openBank(browser, server.url, { scripts: [SKIP], serviceWorkers: 'block' });
    await toLog(page);
    let n = 1;
    for (const [name, minutes, pm_s] of CHIPS) {
        const before = await page.evaluate(() => Date.now());
        await button(page, 'Add missed').click();
        await button(page, 'Foul').click();
        const after = await page.evaluate(() => Date.now()); // opened between the two
        const shown = await field(page, 'Time').inputValue();
        await page.evaluate(() => (self.skip += 61_000));
        await chip(page, name).click();
        assert.equal(before_(shown, await field(page, 'Time').inputValue()), minutes * 60_000);
        await button(page, 'Keep').click();
        const added = (await keptN(page, ++n)).at(-1);
        assert.equal(added.kind, 'lift');
        assert.deepEqual(added.body, { outcome: 'foul' });
        assert.equal(added.pm_s, pm_s);
        const opening = Date.parse(added.at) + minutes * 60_000;
        assert.ok(opening >= before - 1 && opening <= after + 1, `${opening - before} ms after ${after - before}`);
        assert.ok(Date.parse(added.rec) - opening >= 61_000); // when it was entered is kept too
        await page.waitForSelector('.sheet', { state: 'detached' });
    }
    await context.close();
});

test('a clock or an amount that cannot be read is refused in a sentence, with everything typed still there', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'fish');
    await toLog(page);
    await entry(page, 'Fish').click();
    const refused = async (name, text, words) => {
        const was = await field(page, name).inputValue();
        await field(page, name).fill(text);
        await button(page, 'Keep').click();
        await page.getByRole('alert').filter({ hasText: words }).waitFor();
        assert.equal(await field(page, name).inputValue(), text);
        await field(page, name).fill(was);
    };
    await field(page, 'Which fish').fill('tench');
    await refused('Time', '25:10', 'Time is "25:10"; accepted is a clock from 00:00 to 23:59');
    await refused('Weight by scales', 'wet', 'Weight by scales is "wet"');
    await refused('Weight by scales', '9999 lb', /Weight by scales is "9999 lb"; accepted is 0 kg to 1000 kg/);
    await refused('Weight by scales', '12', /Weight by scales is "12", which has the wrong unit; accepted is .*lb/); // or kg?
    assert.equal((await kept(page)).length, 2);
    await field(page, 'Weight by scales').fill('4-6');
    await button(page, 'Keep').click();
    const fix = (await keptN(page, 3)).at(-1);
    assert.deepEqual(Object.keys(fix.body), ['species', 'mass_kg']); // only what was changed, SI
    assert.equal(fix.body.species, 'tench');
    assert.ok(Math.abs(fix.body.mass_kg - 4.375 * 0.45359237) < 1e-9); // 1 lb = 0.45359237 kg, exact (1959 agreement)
    await context.close();
});

test('every kind that can be added becomes one entry that the core takes', async () => {
    const { context, page } = await openBank(browser, server.url);
    await toLog(page);
    const ADD = [
        ['Net', { 'Weight by scales': '38lb 4oz' }, 'net', { mass_kg: 17.349908, net: 1 }],
        ['Net', { Net: '2' }, 'net', { net: 2 }],
        ['Water', { Water: '7,5', Wind: '8 mph' }, 'water', { temp_c: 7.5, wind_m_s: 3.57632 }],
        ['Depth', { Depth: '161 cm', 'Out from the bank': '11' }, 'plumb', { distance_m: 11, depth_m: 1.61 }],
        ['Bait', { Bait: 'hard four', Amount: '600' }, 'box', { bait: 'hard four', count: 600 }],
        ['Touch', { Touches: '2' }, 'touch', { n: 2 }],
        ['Rig in', { Spot: 'long' }, 'lower', { spot: 'long' }],
        ['Feed', { Bait: 'soft two', Amount: '0.5' }, 'feed', { bait: 'soft two', fill_frac: 0.5, how: 'clump' }],
        ['Note', { Note: 'Wind turned.' }, 'note', { note: 'Wind turned.' }],
    ];
    let n = 1;
    for (const [word, fields, kind, body] of ADD) {
        await button(page, 'Add missed').click();
        await page.getByRole('group', { name: 'What to add' }).getByRole('button', { name: word, exact: true }).click();
        for (const [name, text] of Object.entries(fields)) await page.locator('.sheet').getByLabel(name, { exact: true }).fill(text);
        await button(page, 'Keep').click();
        const added = (await keptN(page, ++n)).at(-1);
        assert.equal(added.kind, kind);
        const { pot_m3, ...own } = added.body;
        assert.equal(pot_m3 !== undefined, kind === 'feed'); // a part of a pot says of which
        for (const [key, value] of Object.entries(body))
            if (typeof value === 'number') assert.ok(Math.abs(own[key] - value) < 1e-6, `${key} ${own[key]}`);
            else assert.equal(own[key], value);
        assert.deepEqual(Object.keys(own), Object.keys(body));
        await page.waitForSelector('.sheet', { state: 'detached' });
    }
    const events = await kept(page);
    assert.equal((await stateOf(events))[0].rows.length, events.length); // the core takes them all
    await context.close();
});

test('catching up: "12 missed, 3 fish" is one stretch, good to half of it, and the Bank counts it', async () => {
    const { context, page } = await openBank(browser, server.url);
    await toLog(page);
    await button(page, 'Catch up').click();
    const to = clockMs(await field(page, 'To').inputValue());
    assert.equal((to - clockMs(await field(page, 'From').inputValue()) + DAY_MS) % DAY_MS, 3_600_000);
    await page.locator('.sheet').getByLabel('Missed', { exact: true }).fill('12');
    await page.locator('.sheet').getByLabel('Fish', { exact: true }).fill('3');
    await button(page, 'Keep').click();
    const tally = (await keptN(page, 2)).at(-1);
    assert.equal(tally.kind, 'tally');
    const { from, to: until, ...body } = tally.body;
    assert.deepEqual(body, { landed: 3, missed: 12 });
    assert.equal(Date.parse(until) - Date.parse(from), 3_600_000);
    assert.equal(Date.parse(tally.at), (Date.parse(from) + Date.parse(until)) / 2);
    assert.equal(tally.pm_s, 1800);
    await page.evaluate(() => (location.hash = 'bank'));
    await page.waitForSelector('.outcomes');
    const shown = await counts(page);
    assert.equal(shown.missed, 12);
    assert.equal(shown.fish, 3);
    await context.close();
});

test('crossed-out rows stay, lined through, with the way back; the past never holds up FEED and RIG IN', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'lost');
    await press(page, 'missed');
    await toLog(page);
    await entry(page, 'Missed').waitFor();
    const words = () => page.locator('.rows .entry b').allInnerTexts();
    assert.deepEqual(await words(), ['Missed', 'Lost', 'Start']);
    await button(page, /^cross out Lost/).click();
    await button(page, /^put back Lost/).waitFor();
    assert.deepEqual(await words(), ['Missed', 'Lost', 'Start']);
    const line = await page.locator('.rows .crossed .said').evaluate((one) => getComputedStyle(one).textDecorationLine);
    assert.equal(line, 'line-through');
    await button(page, /^put back Lost/).click();
    await button(page, /^cross out Lost/).waitFor();
    assert.deepEqual((await keptN(page, 5)).slice(3).map(({ kind, of }) => [kind, of]), [
        ['cross', (await kept(page))[1].id],
        ['restore', (await kept(page))[1].id],
    ]);
    await entry(page, 'Missed').click();
    await field(page, 'Note').fill('half a note');
    for (const [name, kind] of [[/^FEED/, 'feed'], [/^RIG IN/, 'lower']]) {
        const n = (await kept(page)).length;
        await button(page, name).click();
        assert.equal((await keptN(page, n + 1)).at(-1).kind, kind);
        assert.equal(await field(page, 'Note').inputValue(), 'half a note');
    }
    await context.close();
});

test('31. taking back, in every kind: adding, catching up, putting right; the state is as it was, and as it was again', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'missed');
    await keptN(page, 2);
    await toLog(page);
    const acts = {
        added: async () => {
            await button(page, 'Add missed').click();
            await button(page, 'Fish').first().click();
            await chip(page, '\u221210').click();
        },
        caught: async () => {
            await button(page, 'Catch up').click();
            await page.locator('.sheet').getByLabel('Lost', { exact: true }).fill('4');
        },
        righted: async () => {
            await entry(page, 'Missed').click();
            await chip(page, '\u22122').click();
            await field(page, 'Spot').fill('margin');
        },
    };
    let n = 2;
    const states = [await stateIn(page)];
    for (const act of Object.values(acts)) {
        await act();
        await button(page, 'Keep').click();
        await keptN(page, ++n);
        await page.waitForSelector('.sheet', { state: 'detached' });
        states.push(await stateIn(page));
    }
    // Back and forth on the Bank, whose strip knows them all.
    await page.evaluate(() => (location.hash = 'bank'));
    await page.waitForSelector('.outcomes');
    for (let i = states.length - 2; i >= 0; i--) {
        await pressUndo(page, i === states.length - 2 ? 'undo' : 'undo-more');
        await keptN(page, ++n);
        assert.deepEqual(await stateIn(page), states[i], `after taking ${i} back`);
    }
    for (let i = 1; i < states.length; i++) {
        await pressUndo(page, 'back');
        await keptN(page, ++n);
        assert.deepEqual(await stateIn(page), states[i], `after putting ${i} back`);
    }
    // A single correction, in its entry.
    await toLog(page);
    await entry(page, 'Missed').click();
    await page.locator('.corrections').getByRole('button', { name: /^cross out/ }).click();
    await keptN(page, ++n);
    assert.deepEqual(await stateIn(page), states[2]);
    await page.locator('.corrections').getByRole('button', { name: /^put back/ }).click();
    await keptN(page, ++n);
    assert.deepEqual(await stateIn(page), states[3]);
    await context.close();
});

test('32. no way out of a sheet loses what was typed', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'missed');
    await press(page, 'lost');
    await toLog(page);
    await entry(page, 'Missed').click();
    await field(page, 'Note').fill('a long story');
    await chip(page, '\u22122').click();
    const time = await field(page, 'Time').inputValue();
    /** The sheet, opened again if it was left. */
    const check = async (how) => {
        if (!page.url().endsWith('#log')) await toLog(page);
        await page.locator('.sheet').or(button(page, /^go on with Missed/)).first().waitFor();
        const isOpen = await page.locator('.sheet').isVisible();
        if (!isOpen) await button(page, /^go on with Missed/).click();
        assert.equal(await field(page, 'Note').inputValue(), 'a long story', how);
        assert.equal(await field(page, 'Time').inputValue(), time, how);
    };
    await button(page, 'Close').click();
    await check('Close');
    await page.getByRole('link', { name: 'Rest', exact: true }).click();
    await page.waitForSelector('.rest');
    await check('a tab');
    await page.goBack();
    await check('the back button');
    await page.getByRole('button', { name: /look of the screen/ }).click();
    await check('the look');
    await page.reload();
    await page.waitForSelector('.rows li', { state: 'attached' });
    await check('a reload');
    await show(page, server.url, 'log');
    await page.waitForSelector('.rows li', { state: 'attached' });
    await check('a page closed and opened');
    const box = await page.locator('.sheet').boundingBox();
    for (const [x, y] of [[2, 300], [318, 300], [160, box.y - 4], [100, 30]]) {
        await page.mouse.click(x, y);
        await check(`a tap at ${x}, ${y}`);
    }
    await page.setViewportSize({ width: 1280, height: 800 });
    await entry(page, 'Lost').click(); // beside the sheet there
    await button(page, 'Close').click();
    await check('another entry');
    assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).overscrollBehaviorY), 'none');
    const n = (await kept(page)).length;
    await button(page, 'Keep').click();
    const fix = (await keptN(page, n + 1)).at(-1);
    assert.deepEqual(Object.keys(fix.body), ['at', 'pm_s', 'note']);
    await page.waitForSelector('.sheet', { state: 'detached' });
    assert.equal(await page.getByText('Not finished').count(), 0);
    await context.close();
});

test('the session is ended from the log, can be looked back on at once, and its end can be crossed out', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'missed');
    await toLog(page);
    await button(page, 'End session').click();
    await button(page, 'Keep').click();
    await page.getByRole('heading', { name: 'Review', exact: true }).waitFor();
    assert.equal((await keptN(page, 3)).at(-1).kind, 'close');
    await page.getByText('3 entries not yet copied out.').waitFor();
    await page.getByRole('button', { name: 'Its log' }).click();
    await page.waitForSelector('.rows li');
    assert.equal(await page.locator('.live').count(), 0);
    await button(page, /^cross out End/).click();
    await page.waitForSelector('.live'); // it goes on
    await page.getByRole('link', { name: 'Bank', exact: true }).click();
    await page.waitForSelector('.outcomes');
    await context.close();
});

test('a session crossed out whole is not open, and is put back from the list of sessions', async () => {
    const { context, page } = await openBank(browser, server.url);
    await press(page, 'undo');
    await page.waitForSelector('.jobs'); // no session any more
    await show(page, server.url, 'review');
    await page.getByText('No session yet.').waitFor();
    const id = (await keptN(page, 2))[0].id;
    await page.locator('select').selectOption(id);
    await button(page, 'Its log').click();
    await button(page, /^put back Start/).click();
    await page.waitForSelector('.live');
    await context.close();
});

/** A session of ours, with a fish of another device so many s after each of ours. */
function twoDevices(gaps) {
    const own = session(gaps.map(() => ['lift', { outcome: 'landed' }]), { step: 300 });
    const others = gaps.map((gap, i) => {
        const twin = JSON.parse(own[i + 1]);
        const at = new Date(Date.parse(twin.at) + gap * 1000).toISOString();
        return JSON.stringify({ ...twin, id: `f${twin.id.slice(1)}`, dev: '0000beef', at, rec: at });
    });
    return [...own, ...others];
}

test('the same fish from two devices is listed when within 30 s, made one by a press only, and two stay two', async () => {
    const lines = twoDevices([8, 20, 40]);
    const { context, page } = await openScreen(browser, server.url, 'log', { lines });
    await page.waitForSelector('.twins li');
    assert.equal(await page.locator('.twins li').count(), 2); // not the one 40 s later
    assert.equal((await keptAtRest(page)).length, lines.length); // nothing happens by itself
    await button(page, 'they are two').first().click();
    await page.waitForFunction(() => document.querySelectorAll('.twins li').length === 1);
    assert.equal((await kept(page)).length, lines.length);
    await page.reload();
    await page.waitForSelector('.twins li');
    assert.equal(await page.locator('.twins li').count(), 1);
    const text = await page.locator('.twins .what').innerText();
    await button(page, 'one fish').click();
    const cross = (await keptN(page, lines.length + 1)).at(-1);
    assert.equal(cross.kind, 'cross');
    const crossed = lines.map((line) => JSON.parse(line)).find(({ id }) => id === cross.of);
    assert.equal(crossed.dev, '0000beef'); // the later one
    assert.ok(text.includes('from another device'));
    await page.waitForSelector('.twins', { state: 'detached' });
    await context.close();
});

test('37. five thousand entries are turned over a hundred at a time, and lanes show their own; at a sixth of the speed each tap turns its button over, counts and is kept', async () => {
    const KINDS = [['lower'], ['lift', { outcome: 'missed' }], ['lift', { outcome: 'landed' }], ['feed', { bait: 'soft two', count: 9 }]];
    const entries = Array.from({ length: 4999 }, (_, i) => KINDS[i % KINDS.length]);
    const lines = session(entries, { step: 10 });
    const { context, page } = await openScreen(browser, server.url, 'log', { lines, hasClock: true });
    await page.getByText('1\u2013100 of 5000').waitFor();
    assert.equal(await page.locator('.rows li').count(), 100);
    assert.ok(await button(page, 'Newer').isDisabled());
    await button(page, 'Older').click();
    await page.getByText('101\u2013200 of 5000').waitFor();
    await page.getByRole('group', { name: 'Which entries' }).getByRole('button', { name: 'Feed', exact: true }).click();
    await page.getByText('1\u2013100 of 1249').waitFor();
    assert.deepEqual([...new Set(await page.locator('.rows b').allInnerTexts())], ['Feed']);
    // How quick it is, is the bench's to tell; here, that nothing is lost.
    await (await context.newCDPSession(page)).send('Emulation.setCPUThrottlingRate', { rate: 6 });
    await page.evaluate(() => (location.hash = 'bank'));
    await page.waitForSelector('.outcomes');
    const [was, nTaps] = [await counts(page), isLong ? 100 : 12];
    await page.evaluate(() => {
        self.flashes = 0;
        new MutationObserver((all) => (self.flashes += all.filter(({ target }) => target.classList.contains('hit')).length))
            .observe(document.querySelector('.outcomes'), { subtree: true, attributes: true, attributeFilter: ['class'] });
    });
    for (let i = 0; i < nTaps; i++) {
        const name = OUTCOMES[i % 6];
        await press(page, name);
        await counted(page, name, was[name] + Math.floor(i / 6) + 1);
        await page.clock.fastForward(11_000); // a person does not log three drops in ten seconds
    }
    assert.equal(await page.evaluate(() => self.flashes), nTaps);
    await keptN(page, lines.length + nTaps);
    await context.close();
});

const SPACED = '* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-bottom: 2em !important }';
for (const [number, how, width] of [[21, 'text twice as large', 320], [22, 'the spacing of WCAG 1.4.12', 320], [19, '280 px', 280]])
    test(`${number}. both sheets of the log with ${how}: nothing cut, nothing over another`, async () => {
        const { context, page } = await openScreen(browser, server.url, 'log', { lines: session(dayOf(7, 30)), look: 'sun', width });
        const cdp = await context.newCDPSession(page);
        if (number === 21) await cdp.send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
        for (const open of ['Add missed', 'Catch up']) {
            await page.reload();
            await button(page, open).click();
            if (open === 'Add missed') await button(page, 'Fish').first().click();
            if (number === 22)
                await page.evaluate((rules) => {
                    const sheet = new CSSStyleSheet();
                    sheet.replaceSync(rules);
                    document.adoptedStyleSheets = [sheet];
                }, SPACED);
            assert.ok((await overhang(page)) <= 0, open);
            assert.deepEqual(await misplaced(page), [], open);
        }
        await context.close();
    });

test('23. the log and its sheet in three looks at each size: axe finds nothing, nothing is too wide, too small or over another', async () => {
    const lines = session(dayOf(7, 30));
    const { context, page, faults } = await openScreen(browser, server.url, 'log', { lines });
    await page.waitForSelector('.live');
    await page.waitForSelector('.rows li');
    await button(page, /^cross out Lift|^cross out Fish|^cross out Missed/).first().click();
    await button(page, 'Add missed').click();
    await standsWellInAll(page, SIZES, { name: 'what to add' });
    await button(page, 'Fish').first().click();
    await page.setViewportSize({ width: 1280, height: 800 });
    const sheet = await page.locator('.sheet').boundingBox();
    const entries = await page.locator('.log-entries').boundingBox();
    assert.ok(sheet.x + sheet.width < entries.x, 'on a wide screen the entries stand beside the sheet');
    assert.ok(sheet.x < 40 && entries.x + entries.width > 1240, 'and the two take its whole width');
    await standsWellInAll(page, SIZES, { name: 'its sheet', turn: 1 });
    assert.deepEqual(faults, []);
    await context.close();
});

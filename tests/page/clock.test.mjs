// Time: whatever is done to clocks, the record keeps its order and its gaps; and a day of ninety drops needs few presses.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { askCore, counted, counts, key, kept, keptN, openBank, openPage, press, startSession, stopClock } from './bank.mjs';
import { browser, server, until, useBrowser } from './common.mjs';

useBrowser();

/** The wall clock can be set by the test: window.shift is by how much it is wrong, in ms. */
const SHIFT = `
    window.shift = 0;
    const real = Date.now.bind(Date);
    Date.now = () => real() + window.shift;`;

/** "2:10" or "12 min" in seconds; the dash: undefined. */
const since = async (page, which) => {
    const text = await page.locator(`.glance > div:nth-child(${which}) .n`).innerText();
    const [, minutes, seconds] = /^(\d+):(\d\d)$/.exec(text) ?? [];
    if (minutes !== undefined) return 60 * Number(minutes) + Number(seconds);
    const [, figures, unit] = /^(\d+)\s*(min|h)$/.exec(text) ?? [];
    return figures === undefined ? undefined : Number(figures) * (unit === 'h' ? 3600 : 60);
};

test('13. the wall clock set an hour on, back, and to 1970: order and gaps stay, one `clock` event each, "since" never jumps', async () => {
    const { context, page, faults } = await openBank(browser, server.url, { scripts: [SHIFT] });
    const names = ['missed', 'touch', 'lost', 'foul', 'nothing', 'missed'];
    const jumps = [0, 3_600_000, -3_600_000, 'to 1970', 'back', 0];
    const fedAt = Date.now(); // what is shown may lag behind by what the test takes, and by no more
    let bittenAt;
    await press(page, 'feed');
    for (const [i, name] of names.entries()) {
        await page.evaluate((jump) => {
            if (jump === 'to 1970') window.shift = 1000 - Date.now();
            else if (jump === 'back') window.shift = 0;
            else window.shift += jump;
        }, jumps[i]);
        await page.waitForTimeout(300);
        if (!['touch', 'nothing'].includes(name)) bittenAt = Date.now(); // those are no bites
        await press(page, name);
        await counted(page, name, names.slice(0, i + 1).filter((one) => one === name).length);
        const most = (start) => (Date.now() - start) / 1000;
        const fed = await since(page, 1);
        assert.ok(fed >= 0 && fed <= most(fedAt), `fed ${fed} s ago after ${jumps[i]}`);
        const bite = await since(page, 2);
        assert.ok(bite >= 0 && bite <= most(bittenAt), `a bite ${bite} s ago after ${jumps[i]}`);
    }
    const events = await keptN(page, 12);
    const clocks = events.filter(({ kind }) => kind === 'clock');
    assert.equal(clocks.length, 4);
    assert.ok(Math.abs(clocks[0].body.jump_s - 3600) < 1);
    assert.ok(Math.abs(clocks[1].body.jump_s + 3600) < 1);
    const log = await askCore(events, 'log', {});
    const rows = log.rows.filter(({ kind }) => kind === 'lift' || kind === 'touch' || kind === 'feed').reverse();
    assert.deepEqual(
        rows.map(({ body, kind }) => body.outcome ?? kind),
        ['feed', ...names],
    );
    const mono = new Map(events.map(({ id, mono_ms }) => [id, mono_ms]));
    for (let i = 1; i < rows.length; i++) {
        const gap = Date.parse(rows[i].at) - Date.parse(rows[i - 1].at);
        const own = mono.get(rows[i].id) - mono.get(rows[i - 1].id);
        assert.ok(Math.abs(gap - own) < 1000, `gap ${i}: ${gap} by the record, ${own} by the monotonic clock`);
    }
    assert.deepEqual(faults, []);
    await context.close();
});

test('13. a clock set back between two starts of the page: nothing is "since" less than nothing, and the order stays', async () => {
    const { context, page } = await openBank(browser, server.url, {
        scripts: [`${SHIFT} window.shift = Number(sessionStorage.getItem('shift') ?? 0);`],
    });
    await press(page, 'feed');
    await keptN(page, 2);
    await page.evaluate(() => sessionStorage.setItem('shift', String(-7_200_000)));
    await page.reload();
    await page.waitForSelector('.outcomes');
    await press(page, 'fish');
    await counted(page, 'fish', 1);
    assert.ok((await since(page, 1)) >= 0 && (await since(page, 1)) < 20);
    const events = await kept(page);
    assert.equal(events.filter(({ kind }) => kind === 'clock').length, 1);
    const log = await askCore(events, 'log', {});
    assert.deepEqual(
        log.rows.filter(({ kind }) => kind !== 'clock').map(({ kind }) => kind),
        ['lift', 'feed', 'open'],
    );
    await context.close();
});

test('14. the night the clocks go back: half past one comes twice, told apart by its offset; another zone moves only the display', async () => {
    const { context, page } = await openPage(browser, { time: '2026-10-25T00:20:00Z' });
    const cdp = await context.newCDPSession(page);
    await cdp.send('Emulation.setTimezoneOverride', { timezoneId: 'Europe/London' });
    await startSession(page, server.url);
    await page.clock.fastForward('10:00');
    await press(page, 'missed');
    await counted(page, 'missed', 1);
    await page.clock.fastForward('01:00:00');
    await press(page, 'missed');
    await counted(page, 'missed', 2);
    const lifts = (await kept(page)).filter(({ kind }) => kind === 'lift');
    assert.match(lifts[0].at, /T01:3\d:.*\+01:00$/);
    assert.match(lifts[1].at, /T01:3\d:.*\+00:00$/);
    const apart = Date.parse(lifts[1].at) - Date.parse(lifts[0].at);
    assert.ok(Math.abs(apart - 3_600_000) < 20_000, `${apart} ms apart`);
    assert.equal((await kept(page)).filter(({ kind }) => kind === 'clock').length, 0);
    assert.match(await page.locator('.clock b').innerText(), /^01:3\d/);
    const before = await kept(page);
    await cdp.send('Emulation.setTimezoneOverride', { timezoneId: 'America/New_York' });
    await page.clock.fastForward('00:20');
    await until(page, () => /^21:3\d/.test(document.querySelector('.clock b').innerText));
    assert.deepEqual(await kept(page), before);
    await context.close();
});

test('15. frozen or hidden for twenty minutes: right within a second when it is seen again, and the screen lock is asked for again', async () => {
    // The device sleeps: the wall clock goes on, the monotonic one does not, and the page is told by events.
    const asleep = `${SHIFT}
        window.asked = 0;
        navigator.wakeLock.request = async () => {
            window.asked++;
            const lock = new EventTarget();
            lock.released = false;
            lock.release = async () => { lock.released = true; lock.dispatchEvent(new Event('release')); };
            window.lock = lock;
            return lock;
        };
        window.hide = (is) => {
            for (const [name, value] of [['hidden', is], ['visibilityState', is ? 'hidden' : 'visible']])
                Object.defineProperty(document, name, { value, configurable: true });
            if (is) void window.lock?.release();
            document.dispatchEvent(new Event('visibilitychange'));
        };`;
    const { context, page } = await openPage(browser, { hasClock: true });
    await page.addInitScript(asleep);
    await startSession(page, server.url);
    await press(page, 'missed');
    await counted(page, 'missed', 1);
    await until(page, () => window.asked === 1);

    await stopClock(page); // a second of the page's own time, however slow the machine
    await page.evaluate(() => window.hide(true));
    await page.clock.runFor(300);
    await page.evaluate(() => {
        window.shift += 20 * 60_000;
        const digits = document.querySelector('.glance > div:nth-child(2)');
        window.seen = [];
        new MutationObserver(() => window.seen.push(digits.querySelector('.n').innerText)).observe(digits, {
            subtree: true,
            childList: true,
            characterData: true,
        });
        window.hide(false);
    });
    await page.clock.runFor(900);
    await until(page, () => window.seen.at(-1) === '20min');
    const changes = (await page.evaluate(() => window.seen)).filter((text, i, all) => text !== all[i - 1]);
    assert.ok(changes.length <= 2, `no burst of late looks: ${changes}`); // what stood there before, and this
    await until(page, () => window.asked === 2);

    // A browser without a screen freezes no page that it shows (tried: Page.setWebLifecycleState), so the events are ours.
    await page.evaluate(() => {
        document.dispatchEvent(new Event('freeze'));
        window.shift += 20 * 60_000;
        document.dispatchEvent(new Event('resume'));
    });
    await page.clock.runFor(900);
    await until(page, () => /^40\s*min/.test(document.querySelector('.glance > div:nth-child(2) .n').innerText));
    assert.deepEqual((await kept(page)).map(({ kind }) => kind), ['open', 'lift']);
    await context.close();
});

test('a five-hour day of ninety drops: two presses a drop at most, none for a blank one', async () => {
    const { context, page, faults } = await openPage(browser, { time: '2026-06-13T07:00:00Z' });
    await startSession(page, server.url);
    const start = (await kept(page))[0].at;
    const wanted = { fish: 0, missed: 0, lost: 0, touch: 0, foul: 0, nothing: 0 };
    const ends = ['fish', 'missed', 'blank', 'lost', 'fish', 'blank', 'foul', 'missed', 'blank', 'fish'];
    const used = { bite: [], blank: [] };
    let presses = 0;
    const act = async (name) => {
        presses++;
        await key(page, name);
    };
    for (let drop = 0; drop < 90; drop++) {
        const end = ends[drop % ends.length];
        const isSeen = drop % 2 === 0; // every other drop the rig going in is logged too
        if (drop % 6 === 0) {
            await act('feed');
            await page.clock.fastForward(40_000);
        }
        const before = presses;
        // For a blank drop nothing is pressed: the next rig going in, or the next feed, says that nothing came of it.
        if (isSeen && end !== 'blank') await act('rig');
        await page.clock.fastForward(end === 'blank' ? 240_000 : 110_000);
        if (end !== 'blank') {
            await act(end);
            wanted[end]++;
        }
        used[end === 'blank' ? 'blank' : 'bite'].push(presses - before);
        await page.clock.fastForward(60_000);
    }
    assert.equal(used.bite.length + used.blank.length, 90);
    assert.ok(Math.max(...used.bite) <= 2, `${Math.max(...used.bite)} presses for a bite`);
    assert.equal(Math.max(...used.blank), 0);
    await counted(page, 'fish', wanted.fish);
    const shown = await counts(page);
    assert.deepEqual({ ...shown, nothing: 0 }, wanted);
    const events = await keptN(page, presses + 1);
    const hours = (Date.parse(events.at(-1).at) - Date.parse(start)) / 3_600_000;
    assert.ok(hours > 4.5 && hours < 6, `${hours} h`);
    // Where the feed went in a while after a lift, the core counts the blank drop that nobody pressed.
    const bank = await askCore(events, 'bank', { now: events.at(-1).at });
    assert.equal(bank.counts.nothing, shown.nothing);
    assert.ok(shown.nothing > 0);
    assert.deepEqual(faults, []);
    await context.close();
});

// Wet thumbs: every button large enough and in its place, a sliding or doubled touch told from a press, rain told from hands.
//   BF_LONG=1  two hundred showers instead of four
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { OUTCOMES, control, count, counted, counts, finger, isLong, kept, keptAtRest, keptN, middle, openBank, openSeeded, press, random, stopClock } from './bank.mjs';
import { browser, server, useBrowser } from './common.mjs';

useBrowser();

const TOUCH = { hasTouch: true };

/** Contacts made in the page by its own clock: the times that an event carries are the injected ones too. */
const DROP = `
    window.drop = (x, y, ms, second) => {
        const target = document.elementFromPoint(x, y) ?? document.body;
        const fire = (type, id, at) => {
            const event = new PointerEvent(type, { bubbles: true, cancelable: true, pointerId: id, pointerType: 'touch',
                isPrimary: id === 1, clientX: x, clientY: y });
            Object.defineProperty(event, 'timeStamp', { value: at });
            target.dispatchEvent(event);
        };
        const now = performance.now();
        fire('pointerdown', 1, now);
        if (second) fire('pointerdown', 2, now + 1);
        return () => { fire('pointerup', 1, now + ms); if (second) fire('pointerup', 2, now + ms); };
    };`;
const DROPS = { ...TOUCH, hasClock: true, scripts: [DROP] };

/** A contact of exactly so many ms, whatever else the machine is doing. */
async function contact(page, x, y, ms, isDouble = false) {
    await page.evaluate(([a, b, c, d]) => (window.up = window.drop(a, b, c, d)), [x, y, ms, isDouble]);
    await page.clock.runFor(ms);
    await page.evaluate(() => window.up());
}

const KIND_OF = {
    fish: ['lift', { outcome: 'landed' }],
    missed: ['lift', { outcome: 'missed' }],
    lost: ['lift', { outcome: 'lost' }],
    touch: ['touch'],
    foul: ['lift', { outcome: 'foul' }],
    nothing: ['lift', { outcome: 'nothing' }],
};
const many = (n) => OUTCOMES.flatMap((name) => Array.from({ length: n }, () => KIND_OF[name]));

/** Where every control is, and whether it answers at nine points inside. */
const audit = (page) =>
    page.$$eval('button:not([disabled]), a, input', (all) =>
        all
            .filter((one) => one.getClientRects().length > 0)
            .map((one) => {
                const box = one.getBoundingClientRect();
                const hits = [0.04, 0.5, 0.96].flatMap((u) =>
                    [0.04, 0.5, 0.96].map((v) =>
                        one.contains(document.elementFromPoint(box.left + u * box.width, box.top + v * box.height)),
                    ),
                );
                return {
                    name: one.dataset.press ?? one.innerText,
                    box: [box.left, box.top, box.width, box.height],
                    isWhole: hits.every(Boolean),
                };
            }),
    );

test('27. every target keeps its size and place with counts of one, two and three digits, at 320 x 640', async () => {
    const places = [];
    for (const n of [1, 12, 123]) {
        const { context, page } = await openSeeded(browser, server.url, many(n), { step: 1 });
        await counted(page, 'fish', n);
        const controls = await audit(page);
        places.push(controls.map(({ name, box }) => [name, box]));
        for (const { name, box, isWhole } of controls) {
            const [left, top, width, height] = box;
            const least = OUTCOMES.includes(name)
                ? [140, 96]
                : { feed: [140, 72], rig: [140, 72], undo: [200, 48] }[name] ?? [44, 44];
            assert.ok(width >= least[0] && height >= least[1], `${name} is ${width} x ${height}`);
            assert.ok(left >= 0 && top >= 0 && left + width <= 320 && top + height <= 640, `${name} is on the screen`);
            assert.ok(isWhole, `${name} answers everywhere inside`);
        }
        for (const a of controls)
            for (const b of controls) {
                if (a === b) continue;
                const apart = [0, 1].map(
                    (i) => Math.max(a.box[i], b.box[i]) - Math.min(a.box[i] + a.box[i + 2], b.box[i] + b.box[i + 2]),
                );
                assert.ok(Math.max(...apart) >= 7.9, `${a.name} and ${b.name} are ${Math.max(...apart)} px apart`);
            }
        assert.deepEqual(
            OUTCOMES.filter((name) => !controls.some((one) => one.name === name)),
            [],
        );
        const scrolls = await page.evaluate(() => document.documentElement.scrollHeight > innerHeight);
        assert.equal(scrolls, false);
        await context.close();
    }
    assert.deepEqual(places[1], places[0]);
    assert.deepEqual(places[2], places[0]);
});

test('28. a fat thumb that lands off the middle and slides presses the button it lifts from, or nothing', async () => {
    const { context, page } = await openBank(browser, server.url, { ...TOUCH, hasClock: true });
    const thumb = await finger(page);
    const next = random(28);
    const PX_IN_MM = 160 / 25.4;
    const boxes = {};
    for (const name of OUTCOMES) boxes[name] = await control(page, name).boundingBox();
    let right = 0;
    let wrong = 0;
    let n = 0;
    const expected = Object.fromEntries(OUTCOMES.map((name) => [name, 0]));
    for (let i = 0; i < 48; i++) {
        const name = OUTCOMES[i % 6];
        const box = boxes[name];
        const disk = (mm) => {
            const [angle, radius] = [2 * Math.PI * next(), mm * PX_IN_MM * Math.sqrt(next())];
            return [radius * Math.cos(angle), radius * Math.sin(angle)];
        };
        const [offX, offY] = disk(5);
        const [driftX, driftY] = disk(6);
        const [x, y] = [box.x + box.width / 2 + offX, box.y + box.height / 2 + offY];
        const [toX, toY] = [x + driftX, y + driftY];
        const isInside = toX > box.x && toX < box.x + box.width && toY > box.y && toY < box.y + box.height;
        await thumb.tap(x, y, { ms: 45, radius: 12 * PX_IN_MM, toX, toY });
        if (isInside) {
            n++;
            expected[name]++;
        }
        const found = await counted(page, name, expected[name]).then(
            () => true,
            () => false,
        );
        if (isInside) right += found;
        else wrong += !found;
        await page.clock.fastForward(11_000); // a person does not log three drops in ten seconds
    }
    assert.ok(n >= 40, `${n} of 48 lifted inside`);
    assert.ok(right >= 0.99 * n, `${right} of ${n}`);
    assert.equal(wrong, 0);
    assert.deepEqual(await counts(page), expected);
    await context.close();
});

test('28. sliding off a button, onto another or into nowhere, presses nothing', async () => {
    const { context, page } = await openBank(browser, server.url, TOUCH);
    const thumb = await finger(page);
    const [x, y] = await middle(page, 'missed');
    const [toX, toY] = await middle(page, 'touch');
    await thumb.tap(x, y, { toX, toY });
    await thumb.tap(x, y, { toX: x, toY: y - 160 });
    await page.waitForTimeout(300);
    assert.deepEqual(Object.values(await counts(page)), [0, 0, 0, 0, 0, 0]);
    assert.equal(await page.locator('.hit').count(), 0);
    await context.close();
});

test('29. two touches of one button within 400 ms are one event, later ones are two; a long press is one', async () => {
    const { context, page } = await openBank(browser, server.url, DROPS);
    await stopClock(page);
    const [x, y] = await middle(page, 'missed');
    let wanted = 0;
    const expect = async (n) => {
        await counted(page, 'missed', (wanted += n));
        await page.clock.runFor(11_000); // a person does not log three drops in ten seconds
    };
    for (const gap of [50, 150, 250, 350]) {
        await contact(page, x, y, 45);
        await page.clock.runFor(gap - 45);
        await contact(page, x, y, 45);
        await expect(1);
    }
    await contact(page, x, y, 45);
    await page.clock.runFor(460 - 45);
    await contact(page, x, y, 45);
    await expect(2);
    for (const ms of [45, 800, 3000]) {
        await contact(page, x, y, ms);
        await expect(1);
    }
    assert.equal(await count(page, 'missed'), wanted);
    assert.equal((await keptAtRest(page)).length, 1 + wanted);
    await context.close();
});

test('30. a second finger and a touch under 40 ms press nothing', async () => {
    const { context, page } = await openBank(browser, server.url, TOUCH);
    const cdp = await context.newCDPSession(page);
    const [missed, touch] = [await middle(page, 'missed'), await middle(page, 'touch')];
    const point = ([x, y], id) => ({ x, y, id });
    const send = (type, touchPoints) => cdp.send('Input.dispatchTouchEvent', { type, touchPoints });
    await send('touchStart', [point(missed, 0)]);
    await send('touchStart', [point(missed, 0), point(touch, 1)]);
    await page.waitForTimeout(60);
    await send('touchEnd', [point(missed, 0)]);
    await send('touchEnd', []);
    await counted(page, 'missed', 1);
    // Both ends of a short touch are made in the page: the protocol between is slower than 40 ms at times.
    await page.evaluate(() => {
        const lost = document.querySelector('[data-press="lost"]');
        const { left, top } = lost.getBoundingClientRect();
        const at = { bubbles: true, pointerId: 7, pointerType: 'touch', clientX: left + 50, clientY: top + 50 };
        lost.dispatchEvent(new PointerEvent('pointerdown', at));
        lost.dispatchEvent(new PointerEvent('pointerup', at));
    });
    await page.waitForTimeout(300);
    assert.deepEqual(await counts(page), { fish: 0, missed: 1, lost: 0, touch: 0, foul: 0, nothing: 0 });
    await context.close();
});

/** So many seconds of rain, one contact a second on average; when it locked, in s. */
async function rain(page, next, seconds) {
    let at = 0;
    let locked;
    while (at < seconds) {
        const gap = -Math.log(1 - next());
        const ms = 20 + 60 * next();
        const [x, y, isDouble] = [320 * next(), 640 * next(), next() < 0.1];
        await page.clock.runFor(Math.round(gap * 1000));
        await contact(page, x, y, Math.round(ms), isDouble);
        at += gap;
        if (locked === undefined && (await page.locator('.bank.locked').count()) > 0) locked = at;
    }
    return locked;
}

/** Everything entered that still stands. */
const standing = (events) => {
    const isCrossed = new Map();
    for (const { kind, of } of events) if (kind === 'cross' || kind === 'restore') isCrossed.set(of, kind === 'cross');
    return events.filter(({ id, kind }) => !['open', 'cross', 'restore', 'clock'].includes(kind) && !isCrossed.get(id));
};

/** Seeds; in 27 the second contact of a pair is what locks, in 31 a drop on Lock, and in 162 one drop comes eight seconds
 * before the others. */
const SHOWERS = isLong ? Array.from({ length: 200 }, (_, seedOf) => seedOf) : [1, 27, 31, 162];
test(`30. ${SHOWERS.length} showers: locked by 15 s with four false entries at most in 95 %, and one held press takes all of them back`, async () => {
    const late = [];
    const heavy = [];
    for (const run of SHOWERS) {
        const { context, page } = await openBank(browser, server.url, DROPS);
        await stopClock(page);
        await press(page, 'missed'); // one entry from before the rain: it must stay
        await counted(page, 'missed', 1);
        await page.clock.runFor(30_000);
        const next = random(1000 + run);
        const locked = await rain(page, next, 20);
        const before = standing(await keptAtRest(page));
        if (locked === undefined || locked > 15) late.push(locked);
        if (before.filter(({ kind }) => kind !== 'fix').length - 1 > 4) heavy.push(before.length - 1);
        if (locked !== undefined) {
            const look = await page.evaluate(() => document.documentElement.dataset.look);
            const entered = (await kept(page)).length;
            await rain(page, next, 30);
            assert.equal((await keptAtRest(page)).length, entered, 'locked: nothing is entered');
            assert.equal(await page.evaluate(() => document.documentElement.dataset.look), look);
            assert.equal(await page.evaluate(() => location.hash), '#bank');
            await page.locator('.bank.locked').waitFor();
            const sweep = control(page, 'sweep');
            if ((await sweep.count()) > 0) {
                const { x, y } = await sweep.boundingBox();
                await contact(page, x + 40, y + 20, 600);
                await sweep.waitFor({ state: 'detached' });
            }
            const left = standing(await keptAtRest(page));
            assert.deepEqual(
                left.filter(({ kind, of }) => kind !== 'fix' || left.some(({ id }) => id === of)).map(({ body }) => body),
                [{ outcome: 'missed' }],
                `run ${run}: everything the rain entered is crossed out, and what was before it stands`,
            );
        }
        await context.close();
    }
    const most = Math.floor(0.05 * SHOWERS.length);
    assert.ok(late.length <= most, `${late.length} showers were not locked by 15 s`);
    assert.ok(heavy.length <= most, `${heavy.length} showers entered more than four`);
});

test('30. a quick person never locks it: a fish with kind, size, feed and rig in 6 s; a slip, undo and the right one', async () => {
    const { context, page } = await openBank(browser, server.url, DROPS);
    await stopClock(page);
    const tap = async (name, rest) => {
        await control(page, name).waitFor();
        await contact(page, ...(await middle(page, name)), 60);
        await page.clock.runFor(rest);
    };
    for (const name of ['fish', 'strip-0', 'strip-1', 'feed', 'rig']) await tap(name, 400);
    for (const name of ['missed', 'undo', 'lost']) await tap(name, 450);
    await counted(page, 'lost', 1);
    assert.equal(await page.locator('.bank.locked').count(), 0);
    assert.deepEqual(await counts(page), { fish: 1, missed: 0, lost: 1, touch: 0, foul: 0, nothing: 0 });
    const fix = (await kept(page)).filter(({ kind }) => kind === 'fix');
    assert.deepEqual(fix.map(({ body }) => body), [{ species: 'F1' }, { size: 'one_lb' }]);
    await context.close();
});

test('30. locked: a touch does nothing, half a second logs, and opening takes two places', async () => {
    const { context, page } = await openBank(browser, server.url, DROPS);
    await stopClock(page);
    const tap = async (name, ms) => {
        await contact(page, ...(await middle(page, name)), ms);
        await page.clock.runFor(420);
    };
    await tap('lock', 60);
    await page.locator('.bank.locked').waitFor();
    for (const name of ['missed', 'feed', 'look', 'more']) await tap(name, 100);
    assert.equal((await keptAtRest(page)).length, 1);
    await tap('missed', 700);
    await counted(page, 'missed', 1);
    await tap('lock', 100); // not without the first step
    assert.equal(await page.locator('.bank.locked').count(), 1);
    await tap('unlock', 500); // not long enough
    await tap('lock', 100);
    assert.equal(await page.locator('.bank.locked').count(), 1);
    await tap('unlock', 1000);
    await page.getByText('Now press Open').waitFor();
    await tap('lock', 100);
    await page.locator('.bank.locked').waitFor({ state: 'detached' });
    await page.clock.resume();
    await page.reload(); // and a lock outlives a reload
    await page.waitForSelector('.outcomes');
    await tap('lock', 60);
    await page.reload();
    await page.locator('.bank.locked').waitFor();
    await context.close();
});

test('36. keys 1 to 6, F, I, U and L enter one event each; switched off, repeated or typed they enter none', async () => {
    const { context, page } = await openBank(browser, server.url);
    for (const key of ['1', '2', '3', '4', '5', '6', 'f', 'i']) await page.keyboard.press(key);
    await keptN(page, 9);
    await page.keyboard.press('u');
    await control(page, 'back').waitFor();
    await page.keyboard.press('l');
    await page.locator('.bank.locked').waitFor();
    await page.keyboard.press('l');
    await page.locator('.bank.locked').waitFor({ state: 'detached' });
    await page.waitForTimeout(430); // since the last 2
    await page.keyboard.down('2');
    for (let i = 0; i < 5; i++) await page.keyboard.down('2'); // held down: it repeats
    await page.keyboard.up('2');
    await counted(page, 'missed', 2);
    await page.evaluate(() => localStorage.setItem('baitfall.keys', 'off'));
    await page.keyboard.press('3');
    await page.waitForTimeout(150);
    assert.equal(await count(page, 'lost'), 1);
    await context.close();
});

/** A device on which the journal's worker hears of nothing between hold() and letGo(). */
const lateWorker = () => {
    const post = Worker.prototype.postMessage;
    let held;
    self.hold = () => (held = []);
    self.letGo = () => {
        const all = held;
        held = undefined;
        for (const [worker, given] of all) post.apply(worker, given);
    };
    Worker.prototype.postMessage = function (...given) {
        if (held) held.push([this, given]);
        else post.apply(this, given);
    };
};

test('cross out, by key before a slip is counted, by finger twice before that is known: the slip is crossed out, once, and nothing else', async () => {
    const { context, page } = await openBank(browser, server.url, { scripts: [lateWorker] });
    await page.keyboard.press('1');
    await counted(page, 'fish', 1);
    for (const [slip, n] of [['missed', 4], ['lost', 6]]) {
        if (slip === 'lost') {
            await control(page, slip).click();
            await control(page, 'undo').waitFor();
        }
        await page.evaluate(() => self.hold());
        if (slip === 'missed') for (const key of ['2', 'u']) await page.keyboard.press(key);
        else await control(page, 'undo').click();
        await page.waitForTimeout(450); // pressed again by someone who sees nothing yet
        await page.evaluate(() => document.querySelector('[data-press="undo"]')?.click());
        await page.evaluate(() => self.letGo());
        const events = await keptN(page, n);
        const [entry, cross] = events.slice(-2);
        assert.deepEqual([entry.kind, cross.kind, cross.of], ['lift', 'cross', entry.id]);
        await control(page, 'back').waitFor();
    }
    assert.equal((await keptAtRest(page)).length, 6);
    assert.deepEqual(await counts(page), { fish: 1, missed: 0, lost: 0, touch: 0, foul: 0, nothing: 0 });
    await context.close();
});

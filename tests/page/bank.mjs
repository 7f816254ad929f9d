// What the tests of the record share: a session opened at the peg, presses, touches, and what is kept.
import assert from 'node:assert/strict';
import { coreWith, eventually, newContext, until } from './common.mjs';

export const isLong = process.env.BF_LONG === '1';
export const OUTCOMES = ['fish', 'missed', 'lost', 'touch', 'foul', 'nothing'];

const ownClock = new WeakSet();
/** A page in a context of its own; `faults` fills with whatever goes wrong in it.
 * @param hasClock         its clock can be moved on: presses need not wait for each other
 * @param time             what that clock shows first; not given: now
 * @param serviceWorkers   'allow': it also keeps its files, which takes longer
 * @param onContext        what is to be done to it before its first page */
export async function openPage(browser, { width = 320, height = 640, scripts = [], time, hasClock = time !== undefined, serviceWorkers = 'block', onContext = async () => undefined, ...options } = {}) {
    const context = await newContext(browser, { viewport: { width, height }, serviceWorkers, ...options });
    await onContext(context);
    for (const script of scripts) await context.addInitScript(script);
    const page = await context.newPage();
    if (hasClock) {
        await page.clock.install({ ...(time && { time }) });
        ownClock.add(page);
    }
    const faults = [];
    page.on('pageerror', (fault) => faults.push(fault.message));
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
    return { context, page, faults };
}

/** Through Start to the Bank, as a person goes. */
export async function startSession(page, url, { venue = 'Withy Pool', peg = '14', look } = {}) {
    if (look) await page.addInitScript((word) => (localStorage['baitfall.look'] ??= word), look);
    await page.goto(`${url}#start`);
    await page.getByLabel('Water', { exact: true }).fill(venue);
    await page.getByLabel('Peg', { exact: true }).fill(peg);
    await page.getByRole('button', { name: 'Start', exact: true }).click();
    await page.waitForSelector('.outcomes');
}

export async function openBank(browser, url, options = {}) {
    const opened = await openPage(browser, options);
    await startSession(opened.page, url, options);
    return opened;
}

export const control = (page, name) => page.locator(`[data-press="${name}"]`);

const AGAIN_MS = 430; // the page takes two presses of one button within 400 ms for one
const lastPress = new WeakMap();
async function paced(page, name, act) {
    const times = lastPress.get(page) ?? lastPress.set(page, new Map()).get(page);
    const wait = (times.get(name) ?? 0) + AGAIN_MS - Date.now();
    if (ownClock.has(page)) {
        if (times.has(name)) await page.clock.fastForward(AGAIN_MS); // it may have stood still since
    } else if (wait > 0) await new Promise((resolve) => setTimeout(resolve, wait));
    await act();
    times.set(name, Date.now());
}
/** A press by mouse, not so soon after the last one of the same button that it would not count. */
export const press = (page, name) => paced(page, name, () => control(page, name).click());

const KEYS = { fish: '1', missed: '2', lost: '3', touch: '4', foul: '5', nothing: '6', feed: 'f', rig: 'i' };
/** The same by its key, which is quicker. */
export const key = (page, name) => paced(page, name, () => page.keyboard.press(KEYS[name]));
export const count = async (page, name) => Number(await control(page, name).locator('.c').innerText());
export const counts = (page) =>
    page.$$eval('.outcomes button', (all) =>
        Object.fromEntries(all.map((one) => [one.dataset.press, Number(one.querySelector('.c').innerText)])),
    );
/** Waits until a button shows a count. */
export const counted = (page, name, n) =>
    until(
        page,
        ([button, wanted]) =>
            document.querySelector(`[data-press="${button}"] .c`)?.textContent === String(wanted) &&
            !document.querySelector(`[data-press="${button}"] .plus`),
        [name, n],
    );

/** The lines in IndexedDB, in the order they were entered. */
export const kept = async (page) => {
    const lines = await page.evaluate(
        () =>
            new Promise((resolve, reject) => {
                const opening = indexedDB.open('baitfall');
                opening.onerror = () => reject(opening.error);
                opening.onsuccess = () => {
                    const database = opening.result;
                    const reading = database.transaction('events').objectStore('events').getAll();
                    reading.onsuccess = () => {
                        database.close();
                        resolve(reading.result.map(({ line }) => line));
                    };
                };
            }),
    );
    return lines.map((line) => JSON.parse(line)).sort((a, b) => a.seq - b.seq);
};

/** Waits until the page has kept so many events, and gives them: neither fewer nor more. */
export async function keptN(page, n) {
    const enough = async () => {
        const events = await kept(page);
        return events.length >= n && events;
    };
    const events = await eventually(enough, async () => `${n} events, of which there are ${(await kept(page)).length}`);
    assert.equal(events.length, n);
    return events;
}

/** A press on the undo strip; waits until the strip has followed and says something else. */
export async function pressUndo(page, name) {
    const was = (await page.locator('.undo').allInnerTexts()).join();
    await press(page, name);
    await until(
        page,
        (before) => {
            const words = [...document.querySelectorAll('.undo')].map((one) => one.innerText).join();
            return words !== before && !words.startsWith('saving');
        },
        was,
    );
}

/** From a second later on the clock, the same of all windows, stands still unless it is moved. Where the machine takes more
 * than that second to ask for it, it is refused, and stands twice as much later. */
export async function stopClock(page) {
    for (let leadMs = 1000, isStopped = false; !isStopped; leadMs *= 2) {
        const times = await Promise.all(page.context().pages().map((one) => one.evaluate(() => Date.now())));
        isStopped = await page.clock.pauseAt(Math.max(...times) + leadMs).then(
            () => true,
            (fault) => (/to the past/.test(fault.message) ? false : Promise.reject(fault)),
        );
    }
}

/** Something that waits for timers of the page, whose clock stands: it goes on by so little at a time until that is over. */
export async function ticking(page, work, stepMs = 1) {
    let isOver = false;
    const over = work.finally(() => (isOver = true));
    while (!isOver) await page.clock.runFor(stepMs);
    return over;
}

/** What is kept once nothing more comes: the same events twice, a while apart. */
export async function keptAtRest(page) {
    for (let before = await kept(page); ; ) {
        await page.waitForTimeout(150);
        const now = await kept(page);
        if (now.length === before.length) return now;
        before = now;
    }
}

/** Puts lines into IndexedDB as if they had been entered before, on this device: that of the first line; the page must have opened
 * it once. */
export const seed = (page, lines) =>
    page.evaluate(
        (all) =>
            new Promise((resolve, reject) => {
                const opening = indexedDB.open('baitfall');
                opening.onerror = () => reject(opening.error);
                opening.onsuccess = () => {
                    const database = opening.result;
                    const change = database.transaction(['events', 'meta'], 'readwrite');
                    change.objectStore('meta').put(JSON.parse(all[0]).dev, 'dev');
                    for (const line of all) change.objectStore('events').put({ key: JSON.parse(line).id, line });
                    change.oncomplete = () => {
                        database.close();
                        resolve();
                    };
                };
            }),
        lines,
    );

const hex = (number, digits) => number.toString(16).padStart(digits, '0');

/** A session's lines from [kind, body] pairs, one every `step` seconds, ending `ago` seconds before now. */
export function session(entries, { step = 60, ago = 5, dev = '0badcafe', first = 1, opening = {}, otherDevice = [] } = {}) {
    const id = (i) => hex(0xabc000 + first + i, 32);
    const start = Date.now() - (ago + step * entries.length) * 1000;
    const at = (i) => new Date(start + i * step * 1000).toISOString();
    return [['open', { venue: 'Withy Pool', peg: '14', ...opening }], ...entries].map(([kind, body = {}], i) =>
        JSON.stringify({
            v: 1,
            id: id(i),
            session: id(0),
            dev: otherDevice.includes(i) ? '0badcafe' : dev,
            run: '00000001',
            seq: first + i,
            kind,
            at: at(i),
            pm_s: 5,
            rec: at(i),
            body,
        }),
    );
}

/** The Bank with a session open in which all that has been entered on this device; with the session
 * over: another screen, waited for by `until`. */
export async function openSeeded(browser, url, entries, options = {}) {
    const opened = await openPage(browser, options);
    await opened.page.goto(`${url}#log`); // nothing is worked out there
    await opened.page.waitForSelector('main');
    const dev = await opened.page.evaluate(
        () =>
            new Promise((resolve) => {
                indexedDB.open('baitfall').onsuccess = ({ target }) => {
                    const database = target.result;
                    database.transaction('meta').objectStore('meta').get('dev').onsuccess = (event) => {
                        database.close();
                        resolve(event.target.result);
                    };
                };
            }),
    );
    await seed(opened.page, session(entries, { dev, ...options }));
    await opened.page.evaluate(() => history.replaceState({}, '', '#'));
    await opened.page.reload();
    await opened.page.waitForSelector(options.until ?? '.outcomes');
    return opened;
}

/** The core's answer about some lines, asked beside the page. */
export async function askCore(events, question, request) {
    const core = await coreWith('journal_take');
    assert.equal(core.journal_room(16_384, 1 << 23), 0);
    const put = (...texts) => {
        let at = core.in_at();
        return texts.map((text) => {
            const bytes = new TextEncoder().encode(text);
            new Uint8Array(core.memory.buffer).set(bytes, at);
            at += bytes.length;
            return bytes.length;
        });
    };
    const out = () => new TextDecoder().decode(new Uint8Array(core.memory.buffer, core.out_at(), core.out_n()));
    for (const event of events) assert.ok(core.journal_take(...put(JSON.stringify(event))) >= 0, out());
    core.ask(...put(question, JSON.stringify(request)));
    return JSON.parse(out());
}

/** A finger on the glass, by the browser's own input. */
export async function finger(page) {
    const cdp = await page.context().newCDPSession(page);
    const point = (x, y, radius) => ({ x, y, radiusX: radius, radiusY: radius });
    return {
        async tap(x, y, { ms = 60, radius = 10, toX = x, toY = y } = {}) {
            await cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [point(x, y, radius)] });
            if (toX !== x || toY !== y)
                for (const part of [0.25, 0.5, 0.75, 1])
                    await cdp.send('Input.dispatchTouchEvent', {
                        type: 'touchMove',
                        touchPoints: [point(x + (toX - x) * part, y + (toY - y) * part, radius)],
                    });
            await new Promise((resolve) => setTimeout(resolve, ms));
            await cdp.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
        },
    };
}

export const middle = async (page, name) => {
    const box = await control(page, name).boundingBox();
    return [box.x + box.width / 2, box.y + box.height / 2];
};

/** Random numbers in [0, 1) that depend on the seed alone (mulberry32, public domain). */
export function random(seedOf) {
    let state = seedOf >>> 0;
    return () => {
        state = (state + 0x6d2b79f5) >>> 0;
        let t = state;
        t = Math.imul(t ^ (t >>> 15), t | 1);
        t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
        return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
    };
}

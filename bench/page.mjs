// Times what people wait for on the screen: node bench/page.mjs. Needs BF_PAGE and BF_BAITFALL as the tests of the page do.
// Prints "what,cpu,median_ms,p95_ms,n":
//   answer, redraw, ranges        a step of the plan: what the worker takes for the nominal answer, at full speed; from the press to the
//                                 end of the frame with its numbers and drawing; and of that with the ranges
//   quick                         a step of the quick screen: from the press to the end of the frame with its three answers, ranges and all
//   bed first                     the Bed of five hours, never looked at before: from the reload to the estimate
//   bed buttons, bed estimate     the same looked at before: to the buttons, and to the estimate, on from a snapshot
//   start                         the Bank of an open session with 5 000 entries in the record: from the reload to the frame with its buttons
//   tap to paint                  a press there: from the press to the next frame, as the browser's event timing counts it, in steps of 8 ms
//   shift                         of what is shown, without a press: first opening, and that start; a sum without a unit, not ms
// The slow-down is the browser's own and reaches the page's thread only: workers go at full speed in both. To `redraw`, which waits for
// one, what a worker as slow as the page would take longer is added.
import { openPage, openSeeded, press } from '../tests/page/bank.mjs';
import { believed, dayAt } from '../tests/page/bed.mjs';
import { answered, launch, serve } from '../tests/page/common.mjs';
import { WITHY, openAt, whole } from '../tests/page/plan.mjs';

const N = 40;
const quantile = (times, part) => [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(part * times.length))];

/** Keeps how long each nominal answer took, ms. */
const TIMED = `{
    self.answerMs = [];
    const Real = self.Worker;
    self.Worker = class extends Real {
        postMessage(message) {
            const asked = performance.now();
            if (/"nominal":true/.test(message.request)) {
                const take = ({ data }) => {
                    if (data.id !== message.id) return;
                    self.answerMs.push(performance.now() - asked);
                    this.removeEventListener('message', take);
                };
                this.addEventListener('message', take);
            }
            super.postMessage(message);
        }
    };
}`;

/** Gives every page painted(): when the frame that is being made is made, as far as the page's thread goes. */
const PAINTED = `self.painted = () => new Promise((resolve) => requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => resolve(performance.now());
    port2.postMessage(null);
}));`;

/** From a press of "Depth more" until the section is drawn anew, and until the ranges stand. */
function step() {
    const more = [...document.querySelectorAll('button')].find(({ ariaLabel }) => ariaLabel === 'Depth more');
    const answer = document.querySelector('.answer');
    return new Promise((resolve) => {
        const start = performance.now();
        let drawn;
        const watch = new MutationObserver(async (changes) => {
            const isDrawn = changes.some(({ target }) => target instanceof Element && target.closest('figure'));
            if (isDrawn) drawn ??= painted();
            if (!drawn || answer.getAttribute('aria-busy') === 'true') return;
            watch.disconnect();
            resolve({ redraw: (await drawn) - start, ranges: (await painted()) - start });
        });
        watch.observe(document.querySelector('.comes-to'), { subtree: true, childList: true, attributes: true });
        more.click();
    });
}

const browser = await launch();
const server = await serve();
console.log('what,cpu,median_ms,p95_ms,n');
const print = (what, rate, times) =>
    console.log(`${what},${rate === 1 ? 'full' : `1/${rate}`},${quantile(times, 0.5).toFixed(3)},${quantile(times, 0.95).toFixed(3)},${times.length}`);
const slowDown = async (context, page, rate) =>
    (await context.newCDPSession(page)).send('Emulation.setCPUThrottlingRate', { rate });

let answerMs;
for (const rate of [1, 6]) {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: WITHY, scripts: [TIMED, PAINTED] });
    await whole(page);
    await slowDown(context, page, rate);
    const times = [];
    for (let i = 0; i < N; i++) times.push(await page.evaluate(step));
    if (rate === 1) {
        const answers = await page.evaluate((n) => self.answerMs.slice(-n), N);
        print('answer', rate, answers);
        answerMs = quantile(answers, 0.5);
    }
    print('redraw', rate, times.map(({ redraw }) => redraw + (rate - 1) * answerMs));
    print('ranges', rate, times.map(({ ranges }) => ranges));
    await context.close();
}

/** From a press of "Depth more" on the quick screen until its three answers stand. */
function quickStep() {
    const more = [...document.querySelectorAll('button')].find(({ ariaLabel }) => ariaLabel === 'Depth more');
    return new Promise((resolve) => {
        const start = performance.now();
        const watch = new MutationObserver(([{ target }]) => {
            if (target.getAttribute('aria-busy') === 'true') return;
            watch.disconnect();
            resolve(painted().then((end) => end - start));
        });
        watch.observe(document.querySelector('.answer'), { attributeFilter: ['aria-busy'] });
        more.click();
    });
}
const N_QUICK = 20;
for (const rate of [1, 6]) {
    const { context, page } = await openPage(browser, { width: 360, height: 700, scripts: [PAINTED] });
    await page.goto(`${server.url}#pot`);
    await answered(page);
    await slowDown(context, page, rate);
    const times = [];
    for (let i = 0; i < N_QUICK; i++) times.push(await page.evaluate(quickStep));
    print('quick', rate, times);
    await context.close();
}

/** When the screen had its buttons and its estimate, ms since the page was asked for. */
const WATCH = `{
    self.seen = {};
    const look = () => {
        if (document.querySelector('.eye button')) self.seen.buttons ??= performance.now();
        if (document.querySelector('.bed[aria-busy="false"]')) self.seen.estimate ??= performance.now();
        if (!self.seen.estimate) requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
}`;
const N_BED = 9;
for (const rate of [1, 6]) {
    const { context, page } = await openSeeded(browser, server.url, dayAt(['long'], 300), { scripts: [WATCH] });
    await slowDown(context, page, rate);
    const times = [];
    await page.evaluate(() => (location.hash = 'bed'));
    for (let i = 0; i <= N_BED; i++) {
        if (i === 0) await page.evaluate(() => indexedDB.deleteDatabase('baitfall-beliefs'));
        await page.reload();
        await believed(page);
        times.push(await page.evaluate(() => self.seen));
        await page.waitForTimeout(500); // its snapshot is kept
    }
    const [first, ...again] = times;
    print('bed first', rate, [first.estimate]);
    for (const what of ['buttons', 'estimate']) print(`bed ${what}`, rate, again.map((time) => time[what]));
    await context.close();
}

/** Shifts of the layout as they come, the slowest handler of each press, and when the Bank stood. */
const COUNT = `{
    self.shifts = [];
    self.presses = new Map();
    const each = (type, more, take) =>
        new PerformanceObserver((list) => list.getEntries().forEach(take)).observe({ type, buffered: true, ...more });
    each('layout-shift', {}, ({ value, hadRecentInput }) => hadRecentInput || self.shifts.push(value));
    each('event', { durationThreshold: 16 }, ({ interactionId, duration }) =>
        interactionId && self.presses.set(interactionId, Math.max(duration, self.presses.get(interactionId) ?? 0)));
    const look = () => {
        if (document.querySelector('.outcomes button')) requestAnimationFrame(() => (self.startedAt = performance.now()));
        else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
}`;
const shifted = (page) => page.evaluate(() => self.shifts.reduce((sum, value) => sum + value, 0));
const N_START = 7;
const N_TAPS = 100;
for (const rate of [1, 6]) {
    const first = await openPage(browser, { width: 360, height: 700, scripts: [COUNT] });
    await slowDown(first.context, first.page, rate);
    await first.page.goto(server.url);
    await answered(first.page);
    await first.page.waitForTimeout(500);
    print('shift first opening', rate, [await shifted(first.page)]);
    await first.context.close();

    const day = dayAt(['long'], 4998);
    const { context, page } = await openSeeded(browser, server.url, day, { step: 6, width: 360, height: 700, scripts: [COUNT] });
    await slowDown(context, page, rate);
    const times = [];
    const shifts = [];
    for (let i = 0; i < N_START; i++) {
        await page.reload();
        await page.waitForSelector('.outcomes button');
        await page.waitForTimeout(500);
        times.push(await page.evaluate(() => self.startedAt));
        shifts.push(await shifted(page));
    }
    print('start', rate, times);
    print('shift start', rate, shifts);
    for (let i = 0; i < N_TAPS; i++) await press(page, ['touch', 'nothing', 'missed', 'lost'][i % 4]);
    await page.waitForTimeout(500);
    const taps = await page.evaluate(() => [...self.presses.values()]);
    const unseen = Array(Math.max(0, N_TAPS - taps.length)).fill(16); // quicker than the browser tells
    print('tap to paint', rate, [...taps, ...unseen]);
    await context.close();
}
await browser.close();
await server.stop();

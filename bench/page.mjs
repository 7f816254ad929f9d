// Times what a step of the plan takes on the screen: node bench/page.mjs. Needs BF_PAGE and BF_BAITFALL as the tests of the page do.
// Prints "what,cpu,median_ms,p95_ms,n": from the press to the frame with the new nominal drawing, and to the ranges.
import { launch, serve } from '../tests/page/common.mjs';
import { WITHY, openAt, whole } from '../tests/page/plan.mjs';

const N = 40;
const quantile = (times, part) => [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(part * times.length))];

/** From a press of "Depth more" until the frame after the section was drawn anew, and until the ranges stand. */
function step() {
    const more = [...document.querySelectorAll('button')].find(({ ariaLabel }) => ariaLabel === 'Depth more');
    const answer = document.querySelector('.answer');
    const painted = () => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => resolve(performance.now()))));
    return new Promise((resolve) => {
        const start = performance.now();
        let drawn;
        const watch = new MutationObserver(async (changes) => {
            const isDrawn = changes.some(({ target }) => target instanceof Element && target.closest('figure'));
            if (isDrawn) drawn ??= painted();
            if (!drawn || answer.getAttribute('aria-busy') === 'true') return;
            watch.disconnect();
            resolve({ drawing: (await drawn) - start, ranges: (await painted()) - start });
        });
        watch.observe(document.querySelector('.comes-to'), { subtree: true, childList: true, attributes: true });
        more.click();
    });
}

const browser = await launch();
const server = await serve();
console.log('what,cpu,median_ms,p95_ms,n');
for (const rate of [1, 6]) {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: WITHY });
    await whole(page);
    await (await context.newCDPSession(page)).send('Emulation.setCPUThrottlingRate', { rate });
    const times = [];
    for (let i = 0; i < N; i++) times.push(await page.evaluate(step));
    for (const what of ['drawing', 'ranges']) {
        const own = times.map((time) => time[what]);
        console.log(`${what},${rate === 1 ? 'full' : `1/${rate}`},${quantile(own, 0.5).toFixed(1)},${quantile(own, 0.95).toFixed(1)},${N}`);
    }
    await context.close();
}
await browser.close();
await server.stop();

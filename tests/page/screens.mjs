// Every screen of the page, as route.ts lists them, with days and a plan made up for the tests; what stands on each is looked at
// in one page that goes from screen to screen.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { openSeeded, seed, session } from './bank.mjs';
import { dayAt } from './bed.mjs';
import { eventually } from './common.mjs';
import { dayOf } from './log.mjs';
import { WITHY, keepDraft, openDetails } from './plan.mjs';

const source = await readFile(new URL('../../page/src/route.ts', import.meta.url), 'utf8');
export const ROUTES = [.../const ROUTES = \[([^\]]*)\]/.exec(source)[1].matchAll(/'([^']*)'/g)].map(([, route]) => route);
/** Screens of an open session only. */
export const DURING = [.../const DURING[^=]*= \[([^\]]*)\]/.exec(source)[1].matchAll(/'([^']*)'/g)].map(([, route]) => route);
export const HOME = ROUTES.filter((route) => !DURING.includes(route));
assert.ok(HOME.length >= 12 && DURING.length >= 4, 'route.ts was read');

const DAY = 86_400;
/** Three days that are over, and an hour of one that is not: [kind, body] pairs. */
const closed = [1, 2, 3].flatMap((k) => session([...dayOf(k, 40), ['close']], { step: 90, ago: k * DAY, first: k * 1000 }));
const HOUR = dayAt(['long'], 60);

/** A page with three days in its record and a plan under way, on Home.
 * @param draws  of the plan's answer; few are enough where none of its numbers is looked at */
export async function openHome(browser, url, { draws = 16, ...options } = {}) {
    const opened = await openSeeded(browser, url, [['lift', { outcome: 'landed' }], ['close']], { ago: 9 * DAY, until: 'main', ...options });
    const { page } = opened;
    await seed(page, closed);
    await keepDraft(page, 'plan', { ...WITHY, draws });
    await page.reload();
    await page.waitForSelector('main');
    return opened;
}

/** The same with a session of an hour open, on the Bank. */
export async function openLive(browser, url, options = {}) {
    const opened = await openSeeded(browser, url, HOUR, { step: 60, ...options });
    await keepDraft(opened.page, 'plan', { ...WITHY, draws: 16 });
    return opened;
}

/** Goes to a screen and waits until nothing on it is being worked out and two looks in a row are the same. */
export async function goTo(page, route) {
    await page.evaluate((word) => (location.hash = word), route);
    await eventually(() => page.evaluate((word) => location.hash.slice(1) === word, route));
    await settled(page);
}
export async function settled(page) {
    let before;
    await eventually(async () => {
        const now = await page.evaluate(() =>
            document.querySelector('main') && !document.querySelector('[aria-busy="true"], [data-waits]') && !/^Working out|looking\.$|being drawn/m.test(document.querySelector('main').innerText)
                ? document.querySelector('#app').innerHTML.replace(/\d+/g, '') : undefined,
        );
        const isSame = now !== undefined && now === before;
        before = now;
        if (!isSame) await new Promise((resolve) => setTimeout(resolve, 60));
        return isSame;
    }, async () => `at rest: ${await page.locator('body').innerText()}`);
}

/** Looks at every screen, first those of home, then those of an open session; all tables open.
 * @param options  .begin once on each page, .leave before a screen is gone to, .arrive once it stands, before its tables are opened */
export async function onEveryScreen(browser, url, look, options = {}) {
    const seen = [];
    for (const [open, routes] of [[openHome, HOME], [openLive, DURING]]) {
        const { context, page, faults } = await open(browser, url, options);
        if (options.begin) await options.begin(page, context);
        for (const route of routes) {
            if (options.leave) await options.leave(page);
            await goTo(page, route);
            if (options.arrive) await options.arrive(page, route);
            await openDetails(page);
            await look(page, route, context);
            seen.push(route);
        }
        assert.deepEqual(faults, []);
        await context.close();
    }
    assert.deepEqual(seen.sort(), [...ROUTES].sort());
}

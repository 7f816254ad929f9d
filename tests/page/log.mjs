// What the tests of the log, the review and typed-up cards share: days of entries, screens with them, what they come to.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { LOOKS, axePath } from './common.mjs';
import { collidingTexts, cutTexts, laidOut, overhang, wear } from './looks.mjs';
import { askCore, kept, openPage, random, seed } from './bank.mjs';

export const SIZES = [
    [320, 640],
    [1280, 800],
];

/** A day of bites as [kind, body] pairs, made up for the tests; a seed always makes the same one. */
export function dayOf(seedOf, n = 90) {
    const draw = random(seedOf);
    const pick = (...choices) => choices[Math.floor(draw() * choices.length)];
    const entries = [];
    for (let i = 0; i < n; i++) {
        const bait = i < n / 2 ? 'soft two' : 'hard four';
        if (i % 9 === 0) entries.push(['feed', { spot: 'long', bait, count: 20, how: 'clump' }]);
        entries.push(['lower', { spot: 'long', hook_bait: 'hard six' }]);
        const outcome = pick('landed', 'landed', 'missed', 'lost', 'nothing');
        const fish = outcome === 'landed' ? { species: pick('carp', 'F1'), guess_kg: 0.4 + Math.round(draw() * 10) / 10 } : {};
        entries.push(['lift', { outcome, ...fish }]);
    }
    return entries;
}

/** Opens a screen of the page, with these lines in its store. */
export async function openScreen(browser, url, route, { lines = [], look, ...options } = {}) {
    const opened = await openPage(browser, options);
    const { page } = opened;
    await page.goto(`${url}#log`); // nothing is worked out there
    await page.waitForSelector('main');
    if (lines.length > 0) await seed(page, lines);
    if (look) await page.evaluate((word) => localStorage.setItem('baitfall.look', word), look);
    await show(page, url, route);
    return opened;
}

/** The page afresh, at a screen. */
export async function show(page, url, route) {
    await page.goto('about:blank');
    await page.goto(`${url}#${route}`);
    await page.waitForSelector('main');
}

/** What a journal comes to, but for the entries that are crossed out, as if they had never been. */
export async function stateOf(events) {
    const sessions = events.filter(({ kind }) => kind === 'open').map(({ id }) => id).sort();
    const all = [];
    for (const session of sessions) {
        const log = await askCore(events, 'log', { session, most: 1000 });
        const { counts, last_feed, net, nets, spot, hook_bait, box, fed, bite, wait } = await askCore(events, 'bank', { session });
        const rows = log.rows.filter((row) => !row.is_crossed);
        assert.ok(log.n <= 1000);
        all.push({ session, rows, counts, last_feed, net, nets, spot, hook_bait, box, fed: fed?.what, bite: bite !== null, wait: wait?.start });
    }
    return all;
}

/** The same of what the page has kept. */
export const stateIn = async (page) => stateOf(await kept(page));

export const button = (page, name) => page.getByRole('button', { name, exact: typeof name === 'string' });
export const field = (page, name) => page.getByLabel(name, { exact: true });
/** The entry with a word, newest first. */
export const entry = (page, word, i = 0) => page.locator('.rows .entry', { has: page.locator(`b:text-is("${word}")`) }).nth(i);

/** Words over each other, outside the window or of a tab outside it; boxes that cut their text. Bars that lie over what is
 * scrolled beneath them, and what is only spoken, are put aside first. */
export async function misplaced(page) {
    const tabs = await page.$$eval('.tabs a', (all) =>
        all.filter((tab) => {
            const words = document.createRange();
            words.selectNodeContents(tab);
            const [inner, outer] = [words.getBoundingClientRect(), tab.getBoundingClientRect()];
            return inner.left < outer.left - 1 || inner.right > outer.right + 1;
        }).map((tab) => `outside its tab: ${tab.innerText}`),
    );
    await page.evaluate(() => {
        const sheet = new CSSStyleSheet();
        sheet.replaceSync(
            '.framed .tabs, .hide { display: none !important } .live, .sheet-head, .start-now { position: static !important }',
        );
        document.adoptedStyleSheets.push(sheet);
    });
    const cut = (await cutTexts(page)).filter((html) => !/^<(input|select|textarea)|class="scroll"/.test(html)); // those scroll
    const colliding = await collidingTexts(page);
    await page.evaluate(() => void document.adoptedStyleSheets.pop());
    return [...tabs, ...cut, ...colliding];
}

/** What axe finds against WCAG, and that it looked. */
export async function axeFaults(page) {
    if (!(await page.evaluate(() => 'axe' in self))) await page.evaluate(await readFile(axePath, 'utf8'));
    const { passes, violations } = await page.evaluate(() => axe.run());
    assert.ok(passes.length > 15, 'axe ran its rules');
    return violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html.slice(0, 120)).join(' | ')}`);
}

/** Every control: at least 44 px, and answering everywhere inside it. */
export const smallControls = (page) =>
    page.evaluate(() =>
        [...document.querySelectorAll('button, summary, a, input:not([type=file]), select, textarea')]
            .filter((control) => control.getClientRects().length > 0)
            .map((control) => {
                control.scrollIntoView({ block: 'center' });
                const box = control.getBoundingClientRect();
                const parts = [0.05, 0.5, 0.95];
                const isWhole = parts.every((u) =>
                    parts.every((v) => {
                        const hit = document.elementFromPoint(box.left + u * box.width, box.top + v * box.height);
                        return control.contains(hit) || control.closest('label')?.contains(hit);
                    }),
                );
                return { name: control.innerText || control.ariaLabel, width: box.width, height: box.height, isWhole };
            })
            .filter(({ width, height, isWhole }) => width < 43.9 || height < 43.9 || !isWhole),
    );

/** How a screen stands at every size: nothing too wide, too small, cut or over another. That takes its time: axe sees in each look
 * another of the sizes, since colours do not hang on the size; and dusk, whose letters and edges are those of shade, is left to axe.
 * @param turn       as if it were another look: states of one screen are shared out over the sizes
 * @param hasTables  wide ones, which scroll by themselves: their words lie outside and are cut
 * @param axe        what axe finds, by a clock that stands for instance
 * @param also       what else is to hold at each size */
export async function standsWell(page, look, sizes, options = {}) {
    const { name = '', turn = 0, hasTables = false, axe = axeFaults, also = async () => undefined } = options;
    for (const [i, [width, height]] of sizes.entries()) {
        const at = `${name} ${width} x ${height}`;
        await page.setViewportSize({ width, height });
        await laidOut(page);
        if (i === (LOOKS.indexOf(look) + turn) % sizes.length) assert.deepEqual(await axe(page), [], at);
        await also(at);
        if (look === 'dusk') continue;
        assert.ok((await overhang(page)) <= 0, `${at}: ${await overhang(page)} px too wide`);
        assert.deepEqual(await smallControls(page), [], at);
        if (!hasTables) assert.deepEqual(await misplaced(page), [], at);
    }
}

/** The same in each look: one page wears them one after the other, as the button in its corner would put them on. */
export async function standsWellInAll(page, sizes, options = {}) {
    const was = await page.evaluate(() => document.documentElement.dataset.look);
    const drawn = {};
    for (const look of LOOKS) {
        await wear(page, look);
        drawn[look] = await page.evaluate((names) => names.map((name) => getComputedStyle(document.documentElement).getPropertyValue(name)), ['--w-body', '--w-strong', '--edge', '--edge-strong']);
        await standsWell(page, look, sizes, { ...options, name: `${options.name ?? ''} ${look}` });
    }
    assert.deepEqual(drawn.dusk, drawn.shade);
    await wear(page, was);
}

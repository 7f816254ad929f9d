// The card on paper: as the core draws it, in its own size, and nothing else with it.
import assert from 'node:assert/strict';
import { before, test } from 'node:test';
import { browser, button, server, useBrowser } from './common.mjs';
import { standsWellInAll } from './log.mjs';
import { SIZES, WITHY, loadCore, openAt, printed, quick } from './plan.mjs';

useBrowser();

let answer;
before(async () => (answer = await loadCore()));

const PRINT = 'self.print = () => (self.nPrints = (self.nPrints ?? 0) + 1);';
const PAPERS = [
    { word: 'A6, two sides', ask: 'card-a6', pages: ['card-a6-front', 'card-a6-back'], mm: [105, 148], sheet: 'a6' },
    { word: 'A5, one side', ask: 'card-a5', pages: ['card-a5'], mm: [210, 148], sheet: 'a5-across' },
];
const openCard = async (options = {}) => {
    const opened = await openAt(browser, server.url, 'card', { plan: WITHY, scripts: [PRINT], ...options });
    await opened.page.waitForSelector('.sheets svg');
    return opened;
};
const choose = async (page, { word, pages }) => {
    await button(page, word).click();
    await page.waitForFunction((n) => document.querySelectorAll('.sheets svg').length === n, pages.length);
};

test('26. A6 is the start; each paper shows the core\u2019s pages and prints them alone, a page each, in its size', async () => {
    const { context, page, faults } = await openCard();
    assert.equal(await button(page, PAPERS[0].word).getAttribute('aria-pressed'), 'true');
    for (const [i, paper] of PAPERS.entries()) {
        await choose(page, paper);
        const core = answer('plan', { ...WITHY, pictures: [paper.ask] });
        const shown = await page.$$eval('.sheets svg', (all) => all.map((one) => one.textContent));
        const drawn = await page.evaluate(
            (svgs) => svgs.map((svg) => new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement.textContent),
            paper.pages.map((name) => core.pictures[name].svg),
        );
        assert.deepEqual(shown, drawn);
        await button(page, 'Print').click();
        await page.waitForFunction((n) => self.nPrints === n, i + 1);
        await page.emulateMedia({ media: 'print' });
        const seen = await page.evaluate(() =>
            [...document.body.children].filter((one) => one.getClientRects().length > 0).map((one) => one.className),
        );
        assert.deepEqual(seen, [`print-sheet ${paper.sheet}`]);
        const scales = await page.$$eval('.print-sheet svg', (all) =>
            all.map((svg) => (svg.getScreenCTM().a * 25.4) / 96), // mm of paper in one mm of the drawing
        );
        for (const scale of scales) assert.ok(Math.abs(scale - 1) < 1e-3, `printed at ${scale} of its size`);
        assert.deepEqual(await printed(page), paper.pages.map(() => paper.mm));
        await page.emulateMedia({ media: null });
        await page.evaluate(() => dispatchEvent(new Event('afterprint')));
        await page.waitForSelector('.print-sheet', { state: 'detached' });
    }
    assert.deepEqual(faults, []);
    await context.close();
});

test('26. on the card no type is smaller than 14 pt, on its drawing than 10 pt, at the size of the paper', async () => {
    const { context, page } = await openCard();
    for (const paper of PAPERS) {
        await choose(page, paper);
        const sizes = await page.$$eval('.sheets svg', (all) =>
            all.flatMap((svg) => {
                const mm = (element) => parseFloat(getComputedStyle(element).fontSize); // a viewBox in mm
                return [...svg.querySelectorAll('text')].filter(({ textContent }) => textContent.trim()).map((text) => ({
                    text: text.textContent,
                    pt: (mm(text) * 72) / 25.4,
                }));
            }),
        );
        assert.ok(sizes.length > 20);
        for (const { text, pt } of sizes) assert.ok(pt >= 9.99, `${text}: ${pt} pt`);
        const small = sizes.filter(({ pt }) => pt < 13.99);
        assert.ok(small.length < sizes.length / 2, 'only labels of the drawing are under 14 pt');
        assert.ok(sizes.filter(({ pt }) => pt >= 23.9).length >= 4, 'the numbers to glance at are 24 pt');
    }
    await context.close();
});

test('23. the card in three looks at each size: black on white, axe finds nothing, nothing too wide or too small', async () => {
    const { context, page, faults } = await openCard({ plan: quick(WITHY) });
    for (const [turn, paper] of PAPERS.entries()) {
        await choose(page, paper);
        const also = async (at) => {
            const paint = await page.$$eval('.sheets svg', (all) =>
                [...new Set(all.flatMap((svg) => [...svg.querySelectorAll('*')].flatMap((one) => {
                    const { fill, stroke } = getComputedStyle(one);
                    return [fill, stroke];
                })))].filter((paint) => !/^(none|rgb\(0, 0, 0\)|rgb\(255, 255, 255\))$/.test(paint)),
            );
            assert.deepEqual(paint, [], at);
        };
        await standsWellInAll(page, SIZES, { name: paper.word, turn, also });
    }
    assert.deepEqual(faults, []);
    await context.close();
});

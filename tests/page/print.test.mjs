// The card on paper: as the core draws it, in its own size, and nothing else with it.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtemp, readFile, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { before, test } from 'node:test';
import { browser, button, server, useBrowser } from './common.mjs';
import { SIZES, standsWellInAll } from './log.mjs';
import { WITHY, loadCore, openAt, printed, quick } from './plan.mjs';

useBrowser();

let answer;
before(async () => (answer = await loadCore()));

const PRINT = 'self.print = () => (self.nPrints = (self.nPrints ?? 0) + 1);';
const PAPERS = [
    { word: 'A6, two sides', ask: 'card-a6', pages: ['card-a6-front', 'card-a6-back'], mm: [105, 148], sheet: 'a6' },
    { word: 'A5, one side', ask: 'card-a5', pages: ['card-a5'], mm: [210, 148], sheet: 'a5-across' },
    { word: 'Half-Letter, two sides', ask: 'card-a6', pages: ['card-a6-front', 'card-a6-back'], mm: [140, 216], sheet: 'half-letter' },
    { word: 'A4, two of A6', ask: 'card-a6', pages: ['card-a6-front', 'card-a6-back'], mm: [210, 297], sheet: 'a4-four', onOne: 4 },
];
const PLAN = quick(WITHY);
const openCard = async () => {
    const opened = await openAt(browser, server.url, 'card', { plan: PLAN, scripts: [PRINT] });
    await opened.page.waitForSelector('.sheets svg');
    return opened;
};
const choose = async (page, { word, pages }) => {
    await button(page, word).click();
    await page.waitForFunction((n) => document.querySelectorAll('.sheets svg').length === n, pages.length);
};

/** What other readers find in a PDF: fonts that are not inside it, and squares of 3 mm that are ink all over. */
async function faultsOfPdf(page) {
    const folder = await mkdtemp(join(tmpdir(), 'baitfall-card-'));
    try {
        const file = join(folder, 'card.pdf');
        await writeFile(file, await page.pdf({ preferCSSPageSize: true }));
        const [, , ...fonts] = execFileSync('pdffonts', [file]).toString().trimEnd().split('\n');
        assert.ok(fonts.length > 0);
        const outside = fonts.filter((line) => !/ yes (yes|no ) (yes|no) +\d+ +\d+$/.test(line));
        execFileSync('pdftoppm', ['-gray', '-r', '102', file, join(folder, 'page')]); // 4 px in a mm
        const floods = [];
        for (const name of (await readdir(folder)).filter((one) => one.endsWith('.pgm'))) {
            const bytes = await readFile(join(folder, name));
            const [head, wide, high] = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.toString('latin1', 0, 40));
            const isInk = (x, y) => bytes[head.length + y * Number(wide) + x] < 128;
            const isFull = (x, y) => Array.from({ length: 144 }, (_, i) => isInk(x + (i % 12), y + Math.floor(i / 12))).every(Boolean);
            for (let y = 0; y + 12 <= high; y += 6) for (let x = 0; x + 12 <= wide; x += 6) if (isInk(x, y) && isFull(x, y)) floods.push([name, x / 4, y / 4]);
        }
        return [...outside, ...floods];
    } finally {
        await rm(folder, { recursive: true });
    }
}

test('26. A6 is the start; each paper shows the core\u2019s pages and prints them alone, in its size, with its fonts inside and nothing filled', async () => {
    const { context, page, faults } = await openCard();
    assert.equal(await button(page, PAPERS[0].word).getAttribute('aria-pressed'), 'true');
    const cores = {};
    for (const [i, paper] of PAPERS.entries()) {
        await choose(page, paper);
        const core = (cores[paper.ask] ??= answer('plan', { ...PLAN, pictures: [paper.ask] }));
        const shown = await page.$$eval('.sheets svg', (all) => all.map((one) => one.textContent));
        const drawn = await page.evaluate(
            (svgs) => svgs.map((svg) => new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement.textContent),
            paper.pages.map((name) => core.pictures[name].svg),
        );
        assert.deepEqual(shown, drawn);
        assert.doesNotMatch(shown.join(' '), /\u2026/); // every word of it had its room
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
        assert.equal(scales.length, paper.onOne ?? paper.pages.length);
        for (const scale of scales) assert.ok(Math.abs(scale - 1) < 1e-3, `printed at ${scale} of its size`);
        assert.deepEqual(await printed(page), paper.onOne ? [paper.mm] : paper.pages.map(() => paper.mm));
        assert.deepEqual(await faultsOfPdf(page), [], paper.word);
        await page.emulateMedia({ media: null });
        await page.evaluate(() => dispatchEvent(new Event('afterprint')));
        await page.waitForSelector('.print-sheet', { state: 'detached' });
    }
    assert.deepEqual(faults, []);
    await context.close();
});

test('26. on the card no type is smaller than 14 pt, on its drawing than 10 pt, at the size of the paper', async () => {
    const { context, page } = await openCard();
    for (const paper of PAPERS.slice(0, 2)) {
        await choose(page, paper); // the others have the same pages
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
    const { context, page, faults } = await openCard();
    for (const [turn, paper] of PAPERS.slice(0, 2).entries()) {
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

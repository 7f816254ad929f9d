// A screen that stands in every look and width, and with letters of twice the size.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { axePath } from './common.mjs';
import { collidingTexts, cutTexts, overhang, wear } from './looks.mjs';
import { openDetails } from './plan.mjs';

const SIZES = [
    [320, 640],
    [1280, 800],
];

/** The tabs lie over what is scrolled under them, and heads of tables whose rows are paragraphs are heard, not seen. */
const NOT_IN_THE_WAY = '.framed .tabs { display: none !important } @media (max-width: 55.99rem) { .many thead { display: none !important } }';

async function stands(page, what) {
    assert.doesNotMatch(await page.locator('#app').innerText(), /\\u|NaN|undefined|null|\[object/, what);
    assert.ok((await overhang(page)) <= 0, `${what}: ${await overhang(page)} px too wide`);
    assert.deepEqual(await cutTexts(page), [], what);
    assert.deepEqual(await collidingTexts(page), [], what);
    const small = await page.$$eval('button:not(.term), select, input, a', (all) =>
        all.filter((one) => one.clientHeight > 0 && (one.offsetWidth < 44 || one.offsetHeight < 44)).map((one) => one.outerHTML.slice(0, 80)),
    );
    assert.deepEqual(small, [], what);
}

/** Nothing is too wide, cut, covered or too small to press; axe finds nothing. */
export async function standsEverywhere(page) {
    await openDetails(page);
    await page.evaluate(await readFile(axePath, 'utf8'));
    const { violations } = await page.evaluate(() => axe.run());
    assert.deepEqual(violations.map(({ id, nodes }) => `${id}: ${nodes[0].html}`), []);
    await page.evaluate((rules) => {
        const sheet = new CSSStyleSheet();
        sheet.replaceSync(rules);
        document.adoptedStyleSheets = [sheet];
    }, NOT_IN_THE_WAY);
    for (const [width, height] of SIZES) {
        await page.setViewportSize({ width, height });
        for (const look of ['sun', 'shade']) { // dusk has shade's letters and edges (log.mjs)
            await wear(page, look);
            await stands(page, `${look} at ${width}`);
        }
    }
    await page.setViewportSize({ width: 360, height: 700 });
    const letters = () => page.evaluate(() => parseFloat(getComputedStyle(document.body).fontSize));
    const before = await letters();
    const session = await page.context().newCDPSession(page);
    await session.send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
    assert.equal(await letters(), 2 * before);
    await stands(page, 'letters of twice the size');
}

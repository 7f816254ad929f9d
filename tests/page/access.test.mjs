// Everybody can read the quick screen and work it: WCAG 2.2 by axe-core, sizes measured, big text, keys; and a day from plan to
// review by keys alone. What holds on every screen stands in screens.test.mjs.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { keptN, openPage } from './bank.mjs';
import { answered, browser, button, openQuick, sentence, server, until, useBrowser, value } from './common.mjs';
import { standsWellInAll } from './log.mjs';
import { collidingTexts, cutTexts, overhang } from './looks.mjs';
import { openDetails } from './plan.mjs';

useBrowser();

const SIZES = [
    [280, 700],
    [360, 700],
    [1280, 800],
];

test('23. the quick screen in three looks at each size, tables open: axe finds nothing, nothing is too wide, too small, cut or over another', async () => {
    const { context, page, faults } = await openQuick(browser, server.url);
    await openDetails(page);
    await standsWellInAll(page, SIZES, { hasTables: true });
    for (const [width, height] of SIZES) {
        await page.setViewportSize({ width, height });
        assert.deepEqual(await cutTexts(page), [], `${width}`);
        assert.deepEqual(await collidingTexts(page), [], `${width}`);
    }
    assert.deepEqual(faults, []);
    await context.close();
});

test('27. every control of the quick screen is at least 44 px, steppers 56, and answers to a press anywhere inside', async () => {
    const { context, page } = await openQuick(browser, server.url);
    for (const [width, height] of [[320, 640], ...SIZES]) {
        await page.setViewportSize({ width, height });
        const sizes = await page.evaluate(() =>
            [...document.querySelectorAll('button, summary, a, input, select')].map((control) => {
                control.scrollIntoView({ block: 'center' });
                const box = control.getBoundingClientRect();
                const hits = [0.05, 0.5, 0.95].flatMap((u) =>
                    [0.05, 0.5, 0.95].map((v) =>
                        control.contains(document.elementFromPoint(box.left + u * box.width, box.top + v * box.height)),
                    ),
                );
                const isStepper = control.parentElement.classList.contains('field');
                return {
                    name: control.innerText,
                    width: box.width,
                    height: box.height,
                    isStepper,
                    isWhole: hits.every(Boolean),
                };
            }),
        );
        assert.ok(sizes.length >= 11);
        assert.equal(sizes.filter((one) => one.isStepper).length, 8);
        for (const one of sizes) {
            const least = one.isStepper ? 56 : 44;
            assert.ok(one.width >= least && one.height >= least && one.isWhole, JSON.stringify(one));
        }
    }
    await context.close();
});

test('21. text of twice the size by the device\u2019s own setting: nothing cut, nothing over another, no sideways scroll', async () => {
    const { context, page } = await openQuick(browser, server.url);
    const session = await context.newCDPSession(page);
    const before = await page.evaluate(() => parseFloat(getComputedStyle(document.body).fontSize));
    await session.send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
    await page.reload();
    await answered(page);
    await openDetails(page);
    assert.equal(await page.evaluate(() => parseFloat(getComputedStyle(document.body).fontSize)), 2 * before);
    for (const width of [320, 360, 1280]) {
        await page.setViewportSize({ width, height: 700 });
        assert.ok((await overhang(page)) <= 0, `${width}: ${await overhang(page)} px too wide`);
        assert.deepEqual(await cutTexts(page), []);
        assert.deepEqual(await collidingTexts(page), []);
    }
    await context.close();
});

test('33. the quick screen works by keys alone, with a ring of 3 px that is never covered', async () => {
    const { context, page } = await openQuick(browser, server.url, { width: 360 });
    const order = [];
    for (let i = 0; i < 40; i++) {
        await page.keyboard.press('Tab');
        const at = await page.evaluate(() => {
            const element = document.activeElement;
            if (element === document.body) return null;
            const box = element.getBoundingClientRect();
            const style = getComputedStyle(element);
            const seen = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
            return {
                name: element.getAttribute('aria-label') ?? element.innerText,
                ring: `${style.outlineStyle} ${style.outlineWidth}`,
                isSeen: element.contains(seen) && box.top >= 0 && box.bottom <= innerHeight,
            };
        });
        if (!at) break;
        assert.equal(at.ring, 'solid 3px', at.name);
        assert.ok(at.isSeen, at.name);
        order.push(at.name);
    }
    assert.deepEqual(order, [
        'Home',
        'Shade, look of the screen',
        'Bait before',
        'Bait after',
        'Pot smaller',
        'Pot larger',
        'Depth less',
        'Depth more',
        'Water colder',
        'Water warmer',
        'Don\u2019t know how warm',
        'The same as a table',
        'The same as a table',
    ]);
    const before = await sentence(page);
    await button(page, 'Depth more').focus();
    await page.keyboard.press('Enter');
    await page.keyboard.press('Space');
    assert.match(await value(page, 'Depth'), /^1\.60/);
    await button(page, 'Pot larger').focus();
    await page.keyboard.press('Space');
    await page.waitForFunction((old) => document.querySelector('[role=status]').innerText !== old, before);
    await page.locator('summary').first().focus();
    await page.keyboard.press('Enter');
    assert.equal(
        await page
            .locator('details')
            .first()
            .evaluate((details) => details.open),
        true,
    );
    await context.close();
});

test('34. one heading of the first level, the answer is a status, each drawing is an image with name and words', async () => {
    const { context, page } = await openQuick(browser, server.url);
    assert.equal(await page.locator('h1').count(), 1);
    assert.equal(await page.getByRole('status').count(), 1);
    const images = await page.evaluate(() =>
        [...document.querySelectorAll('figure svg')].map((svg) => ({
            role: svg.getAttribute('role'),
            title: svg.querySelector('title')?.textContent ?? '',
            words: svg.querySelector('desc')?.textContent ?? '',
            finding: svg.closest('section').querySelector('.finding').textContent,
            rows: svg.closest('section').querySelectorAll('details tr').length,
            ids: [...svg.querySelectorAll('[id]')].map((element) => element.id),
        })),
    );
    assert.equal(images.length, 2);
    for (const image of images) {
        assert.equal(image.role, 'img');
        assert.ok(image.title && image.words && image.finding && image.rows > 1, JSON.stringify(image));
    }
    const ids = images.flatMap((image) => image.ids);
    assert.equal(new Set(ids).size, ids.length);
    await context.close();
});

test('23. the look starts with the device, changes by one press, stays in its corner and is remembered', async () => {
    for (const [colorScheme, first] of [
        ['light', 'Shade'],
        ['dark', 'Dusk'],
    ]) {
        const { context, page } = await openQuick(browser, server.url, { colorScheme });
        const look = page.locator('button.look');
        const seen = [];
        for (let i = 0; i < 4; i++) {
            seen.push(await look.innerText());
            const box = await look.boundingBox();
            assert.ok(box.x + box.width >= 360 - 12 && box.y < 24, 'top right');
            await look.click();
        }
        assert.equal(seen[0], first);
        assert.equal(seen[3], first);
        assert.deepEqual([...seen.slice(0, 3)].sort(), ['Dusk', 'Shade', 'Sun']);
        const last = await look.innerText();
        await page.reload();
        await answered(page);
        assert.equal(await look.innerText(), last);
        await context.close();
    }
});

test('24. the sun look of the quick screen is black on white, bold, with lines of 3 px around what is pressed', async () => {
    const { context, page } = await openQuick(browser, server.url, { look: 'sun' });
    const odd = await page.evaluate(() =>
        [...document.querySelectorAll('#app *:not(svg, svg *)')]
            .filter((element) => [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim()))
            .map((element) => ({ text: element.innerText, style: getComputedStyle(element) }))
            .filter(({ style }) => style.color !== 'rgb(0, 0, 0)' || Number(style.fontWeight) < 600)
            .map(({ text }) => text),
    );
    assert.deepEqual(odd, []);
    const ground = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
    assert.equal(ground, 'rgb(255, 255, 255)');
    for (const edge of await page
        .locator('button')
        .evaluateAll((all) => all.map((one) => getComputedStyle(one).borderTopWidth)))
        assert.equal(edge, '3px');
    await context.close();
});

/** Where the focus is: what it is called, its ring, and whether it is seen. */
const focused = (page) =>
    page.evaluate(() => {
        const element = document.activeElement;
        if (element === document.body) return null;
        const box = element.getBoundingClientRect();
        const { outlineStyle, outlineWidth } = getComputedStyle(element);
        const seen = document.elementFromPoint(box.left + box.width / 2, box.top + Math.min(box.height / 2, 20));
        return {
            name: (element.ariaLabel ?? (element.labels?.[0]?.innerText || element.innerText)).trim(),
            ring: `${outlineStyle} ${outlineWidth}`,
            isSeen: (element.contains(seen) || element.closest('label')?.contains(seen)) && box.top >= 0 && box.top < innerHeight,
        };
    });

/** Tab by tab to what is called so; on the way there everything has its ring and is seen, and nothing comes twice. */
async function tabTo(page, name) {
    for (const met = []; ; ) {
        await page.keyboard.press('Tab');
        const at = await focused(page);
        if (!at) continue;
        assert.equal(at.ring, 'solid 3px', at.name);
        assert.ok(at.isSeen, `${at.name} is not seen`);
        if (name.test(at.name)) return;
        met.push(at.name);
        assert.ok(met.length < 90, `${name} is not reached: ${met.join(', ')}`);
    }
}

test('33. by keys alone from a plan to its card, a session, its log and its review: all is reached, ringed and never covered', async () => {
    const { context, page, faults } = await openPage(browser, { width: 360, height: 700 });
    const at = (route) => until(page, (word) => location.hash === `#${word}` && document.querySelector('h1'), route);
    const press = async (name, key = 'Enter') => {
        await tabTo(page, name);
        await page.keyboard.press(key);
    };
    await page.goto(server.url);
    await press(/^Everything else$/);
    await press(/^Plan tomorrow/);
    await at('plan');
    await page.waitForSelector('.answer .read');
    const depth = await value(page, 'Depth');
    await press(/^Depth more$/, 'Space');
    await until(page, (was) => document.querySelector('.field[aria-label="Depth"] .value').innerText !== was, depth);
    await press(/^(Make the )?card$/i);
    await at('card');
    await press(/^Home$/);
    await press(/^Start at the peg/);
    await at('start');
    await press(/^Start$/);
    await page.waitForSelector('.outcomes');
    await press(/^Missed/, 'Space');
    await press(/^Feed/i, 'Space');
    await keptN(page, 3);
    await press(/^Log$/);
    await at('log');
    await press(/Missed[^]*put right/);
    await press(/^\u22125/);
    await press(/^Keep$/);
    await keptN(page, 4);
    await press(/^End session/);
    await press(/^Keep$/);
    await keptN(page, 5);
    await press(/^Review$/);
    await at('review');
    await page.waitForSelector('.sentences');
    assert.deepEqual(faults, []);
    await context.close();
});

// Everybody can read it and work it: WCAG 2.2 by axe-core, sizes measured, big text, keys, every look and width.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { collidingTexts, cutTexts, overhang } from './looks.mjs';
import { LOOKS, answered, axePath, browser, button, openQuick, sentence, server, useBrowser, value } from './common.mjs';

useBrowser();

const SIZES = [
    [360, 700],
    [1280, 800],
];
const WIDTHS = [280, 320, 360, 412, 1280];

const openDetails = (page) =>
    page.evaluate(() => document.querySelectorAll('details').forEach((details) => (details.open = true)));

for (const look of LOOKS)
    for (const [width, height] of SIZES)
        test(`axe finds nothing in ${look} at ${width} x ${height}, with the tables open`, async () => {
            const { context, page, faults } = await openQuick(browser, server.url, { width, height, look });
            assert.equal(await page.evaluate(() => document.documentElement.dataset.look), look);
            await openDetails(page);
            await page.evaluate(await readFile(axePath, 'utf8'));
            const result = await page.evaluate(() => axe.run());
            assert.ok(result.passes.length > 20, 'axe ran its rules');
            assert.deepEqual(
                result.violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join(' ')}`),
                [],
            );
            assert.deepEqual(faults, []);
            await context.close();
        });

for (const look of LOOKS)
    test(`${look} at ${WIDTHS.join(', ')} px: no sideways scroll, nothing cut, no word over another`, async () => {
        const { context, page } = await openQuick(browser, server.url, { look });
        await openDetails(page);
        for (const width of WIDTHS) {
            await page.setViewportSize({ width, height: 700 });
            assert.ok((await overhang(page)) <= 0, `${width}: ${await overhang(page)} px too wide`);
            assert.deepEqual(await cutTexts(page), [], `${width}`);
            assert.deepEqual(await collidingTexts(page), [], `${width}`);
        }
        await context.close();
    });

test('every control is at least 44 px, steppers 56, and answers to a press anywhere inside', async () => {
    for (const [width, height] of [[320, 640], ...SIZES]) {
        const { context, page } = await openQuick(browser, server.url, { width, height });
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
        await context.close();
    }
});

test('text of twice the size: nothing cut, nothing over another, no sideways scroll', async () => {
    for (const width of [320, 360, 1280]) {
        const { context, page } = await openQuick(browser, server.url, { width });
        await openDetails(page);
        // Both ways text grows: the device's own text size, and the page zoomed (half as many px in the same window).
        const session = await context.newCDPSession(page);
        const before = await page.evaluate(() => parseFloat(getComputedStyle(document.body).fontSize));
        await session.send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
        await page.reload();
        await answered(page);
        await openDetails(page);
        assert.equal(await page.evaluate(() => parseFloat(getComputedStyle(document.body).fontSize)), 2 * before);
        assert.ok((await overhang(page)) <= 0, `${width}: ${await overhang(page)} px too wide`);
        assert.deepEqual(await cutTexts(page), []);
        assert.deepEqual(await collidingTexts(page), []);
        await context.close();
    }
});

test('the spacing of WCAG 1.4.12 cuts nothing', async () => {
    for (const width of [320, 1280]) {
        // The policy refuses a style element, as it should; a style sheet made by script stands in for the reader's own.
        const { context, page } = await openQuick(browser, server.url, { width });
        await openDetails(page);
        await page.evaluate(() => {
            const sheet = new CSSStyleSheet();
            sheet.replaceSync(
                '* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-bottom: 2em !important }',
            );
            document.adoptedStyleSheets = [sheet];
        });
        assert.equal(
            await page.evaluate(() => getComputedStyle(document.querySelector('h1')).letterSpacing !== 'normal'),
            true,
        );
        assert.ok((await overhang(page)) <= 0);
        assert.deepEqual(await cutTexts(page), []);
        assert.deepEqual(await collidingTexts(page), []);
        await context.close();
    }
});

test('the whole screen works by keys alone, with a ring of 3 px that is never covered', async () => {
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

test('one heading of the first level, the answer is a status, each drawing is an image with name and words', async () => {
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

test('the look starts with the device, changes by one press, stays in its corner and is remembered', async () => {
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

test('the sun look is black on white, bold, with lines of 3 px around what is pressed', async () => {
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

test('with forced colours every button keeps an edge and the pressed one differs', async () => {
    const { context, page } = await openQuick(browser, server.url, { forcedColors: 'active' });
    await button(page, 'Don\u2019t know how warm').click();
    await answered(page);
    const buttons = await page.locator('button').evaluateAll((all) =>
        all.map((one) => {
            const style = getComputedStyle(one);
            return {
                name: one.innerText,
                edge: parseFloat(style.borderTopWidth),
                color: style.borderTopColor,
                ground: style.backgroundColor,
                isPressed: one.getAttribute('aria-pressed') === 'true',
            };
        }),
    );
    const paper = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    for (const one of buttons) assert.ok(one.edge >= 2 && one.color !== paper, JSON.stringify(one));
    const [pressed] = buttons.filter((one) => one.isPressed);
    assert.ok(buttons.filter((one) => !one.isPressed).every((one) => one.ground !== pressed.ground));
    await context.close();
});

test('nothing moves', async () => {
    for (const reducedMotion of ['reduce', 'no-preference']) {
        const { context, page } = await openQuick(browser, server.url, { reducedMotion });
        const moving = await page.evaluate(
            () =>
                [...document.querySelectorAll('*')].filter((element) => {
                    const style = getComputedStyle(element);
                    return parseFloat(style.transitionDuration) > 0 || style.animationName !== 'none';
                }).length,
        );
        assert.equal(moving, 0);
        await context.close();
    }
});

// The quick screen: at most five presses, no typing, honest words.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { answered, browser, button, native, newContext, openQuick, sentence, server, useBrowser, value } from './common.mjs';

useBrowser();

// Steps are pressed by key: a mouse is down as long as the machine is slow, and a button that is held runs on.

/**
 * Holds a button until its field shows what is wanted; one press of the finger, however long. The page itself lets go,
 * between that step and the next: from here the order may come steps too late.
 */
async function holdUntil(page, name, wanted) {
    const hold = await button(page, name).evaluateHandle((pressed, text) => {
        const shown = pressed.closest('.field').querySelector('.value');
        const hold = { isOver: false };
        new MutationObserver((_, watch) => {
            if (!shown.innerText.startsWith(text)) return;
            watch.disconnect();
            pressed.dispatchEvent(new PointerEvent('pointerup'));
            hold.isOver = true;
        }).observe(shown, { childList: true, characterData: true, subtree: true });
        return hold;
    }, wanted);
    await button(page, name).hover();
    await page.mouse.down();
    await page.waitForFunction((one) => one.isOver, hold);
    await page.mouse.up();
}

/** The ends of the range of the i-th reading, as shown. */
async function range(page, i) {
    const text = await page.locator('.read .range span').nth(i).innerText();
    const [, lo, hi] = /^\((\S+?)(?:\u2013| to )(\S+)\)$/.exec(text);
    return [Number(lo.replace('\u2212', '-')), Number(hi.replace('\u2212', '-'))];
}

test('it opens on an answer, in one sentence that the readings repeat', async () => {
    const { context, page, faults } = await openQuick(browser, server.url);
    const words = await sentence(page);
    const number = '\\d[\\d.]*';
    const between = `\\(${number}\u2013${number}\\)`;
    assert.match(
        words,
        new RegExp(
            `^About ${number} in the pot ${between}, ${number}\\sm?i?n?s? down ${between}, 9 in 10 inside a ${number}\\sc?m ring ${between}\\.$`,
        ),
    );
    const readings = await page
        .locator('.read')
        .evaluateAll((all) =>
            all.map((one) => [
                one.querySelector('.n').firstChild.textContent,
                one.querySelector('.range span').innerText,
            ]),
        );
    assert.equal(readings.length, 3);
    for (const [middle, range] of readings) {
        assert.ok(words.includes(middle), middle);
        assert.ok(words.includes(range), range);
    }
    assert.equal(await page.locator('.read .gauge').count(), 3);
    for (const words of await page.locator('.read .mostly').allInnerTexts())
        assert.match(words, /^range mostly from (the|how|which|chance)[a-z ,]+$/);
    assert.equal(await page.locator('.read .mostly').count(), 3);
    assert.deepEqual(faults, []);
    await context.close();
});

test('any bait, pot, depth and warmth is at most five presses away', async () => {
    const { context, page } = await openQuick(browser, server.url);
    const before = await sentence(page);
    await holdUntil(page, 'Bait after', 'Sweetcorn');
    await button(page, 'Pot larger').press('Enter');
    await holdUntil(page, 'Depth more', '2.');
    await button(page, 'Water warmer').press('Enter');
    await button(page, 'Water warmer').press('Enter');
    assert.match(await value(page, 'Bait'), /^Sweetcorn/);
    assert.match(await value(page, 'Pot'), /^Large/);
    assert.match(await value(page, 'Depth'), /^2\.\d\d m, 6\sft/);
    assert.match(await value(page, 'Water'), /^13\.0/);
    await answered(page);
    assert.notEqual(await sentence(page), before);
    assert.equal(await page.locator('input, select, textarea, [contenteditable]').count(), 0);
    await context.close();
});

test('one press is one step: 5 cm, half a degree, one bait, one pot, and back', async () => {
    const { context, page } = await openQuick(browser, server.url);
    for (const [field, more, less] of [
        ['Bait', 'Bait after', 'Bait before'],
        ['Pot', 'Pot larger', 'Pot smaller'],
        ['Depth', 'Depth more', 'Depth less'],
        ['Water', 'Water warmer', 'Water colder'],
    ]) {
        const start = await value(page, field);
        await button(page, more).press('Enter');
        assert.notEqual(await value(page, field), start);
        await button(page, less).press('Enter');
        assert.equal((await value(page, field)).split(' ')[0], start.split(' ')[0]);
    }
    await button(page, 'Depth more').press('Enter');
    assert.match(await value(page, 'Depth'), /^1\.55 m, 5\s*ft\s*1\s*in$/); // 1.55 m = 61.02 in
    await button(page, 'Water colder').press('Enter');
    assert.match(await value(page, 'Water'), /^11\.5/);
    await context.close();
});

test('all baits come round, each with an answer or a plain sentence why not', async () => {
    const { context, page, faults } = await openQuick(browser, server.url);
    const seen = [];
    const start = await value(page, 'Bait');
    do {
        await button(page, 'Bait after').press('Enter');
        await page.waitForSelector('.answer[aria-busy="false"]');
        seen.push(await value(page, 'Bait'));
        const alert = page.locator('.answer [role=alert]');
        const isRefused = (await alert.count()) > 0;
        if (isRefused) assert.match((await alert.allInnerTexts()).join(' '), /\w+ \w+ .*\.$/);
        else if (/^None fits/.test(await sentence(page))) assert.equal(await page.locator('.read').count(), 2);
        else assert.equal(await page.locator('.read').count(), 3);
        assert.doesNotMatch(await page.locator('#app').innerText(), /NaN|undefined|null|Infinity/);
    } while (seen.at(-1) !== start && seen.length < 60);
    assert.equal(new Set(seen).size, seen.length);
    assert.ok(seen.length >= 12);
    assert.deepEqual(faults, []);
    await context.close();
});

test('not knowing how warm it is, is an answer like any other, and the program gives the same', async () => {
    const { context, page } = await openQuick(browser, server.url, {
        keep: { 'baitfall.quick': JSON.stringify({ bait: 'hemp', depthCm: 300 }) },
    });
    await button(page, 'Don\u2019t know how warm').click();
    assert.match(await value(page, 'Water'), /^Don\u2019t know/);
    await answered(page);
    const request = (temp) => ({ bait: 'hemp', water: { depth: '3 m', temp } });
    const unknown = native('fall', request("don't know"));
    const known = native('fall', request('12 C'));
    assert.ok(unknown.shares.time_s['water.temp_c'] > known.shares.time_s['water.temp_c']);
    const shown = await page.locator('.read').nth(1).innerText();
    const [, middle, unit, ends] = /^(\S+) (\S+) \((.*)\)$/.exec(unknown.time_s.text);
    assert.equal(shown.split('\n').slice(0, 2).join(' '), `${middle}${unit} (${ends.replace('-', '\u2013')})`);
    await button(page, 'Water warmer').press('Enter');
    assert.match(await value(page, 'Water'), /^12\.0/);
    await context.close();
});

test('deeper takes longer', async () => {
    const { context, page } = await openQuick(browser, server.url);
    const [shallowLo, shallowHi] = await range(page, 1);
    await holdUntil(page, 'Depth more', '3.');
    await answered(page);
    const [deepLo, deepHi] = await range(page, 1);
    assert.ok(deepLo > shallowLo && deepHi > shallowHi);
    await context.close();
});

test('the ends of what is accepted cannot be stepped over', async () => {
    const { context, page } = await openQuick(browser, server.url, {
        keep: { 'baitfall.quick': JSON.stringify({ depthCm: 10, tempHalfC: 1 }) },
    });
    for (let i = 0; i < 6; i++) {
        await button(page, 'Depth less').press('Enter'); // pressed even where it says that it is the end
        await button(page, 'Water colder').press('Enter');
    }
    assert.equal(await button(page, 'Depth less').getAttribute('aria-disabled'), 'true');
    assert.equal(await button(page, 'Water colder').getAttribute('aria-disabled'), 'true');
    await page.waitForSelector('.answer[aria-busy="false"]');
    assert.ok(parseFloat(await value(page, 'Depth')) > 0);
    assert.ok(parseFloat(await value(page, 'Water')) >= 0);
    await context.close();
});

test('what was chosen is there next time, and nonsense kept under its name does no harm', async () => {
    const { context, page } = await openQuick(browser, server.url);
    await button(page, 'Bait after').press('Enter');
    await button(page, 'Pot larger').press('Enter');
    await button(page, 'Depth more').press('Enter');
    await button(page, 'Don\u2019t know how warm').click();
    await answered(page);
    const chosen = await Promise.all(['Bait', 'Pot', 'Depth', 'Water'].map((field) => value(page, field)));
    const words = await sentence(page);
    await page.reload();
    await answered(page);
    assert.deepEqual(await Promise.all(['Bait', 'Pot', 'Depth', 'Water'].map((field) => value(page, field))), chosen);
    assert.equal(await sentence(page), words);
    for (const nonsense of [
        '{',
        'null',
        '[]',
        '{"bait":7,"pot":"bucket","depthCm":"deep","tempHalfC":null}',
        '{"bait":"gravel","depthCm":1e9}',
        '{"depthCm":-5,"tempHalfC":0.3}',
    ]) {
        await page.evaluate((text) => localStorage.setItem('baitfall.quick', text), nonsense);
        await page.reload();
        await answered(page);
    }
    await context.close();
});

test('the power-line caution stands framed under the readings, before anything else, with "estimates"', async () => {
    const { context, page } = await openQuick(browser, server.url);
    const caution = page.locator('.caution');
    assert.match(await caution.locator('p').first().innerText(), /overhead power lines/);
    assert.match(await caution.innerText(), /Estimates, not measurements\.$/);
    const order = await page.evaluate(() =>
        [...document.querySelectorAll('.reads, .caution, .pictures, .remarks')]
            .sort((a, b) => a.getBoundingClientRect().top - b.getBoundingClientRect().top)
            .map((element) => element.className),
    );
    assert.deepEqual(order, ['reads', 'caution', 'pictures', 'remarks']);
    const texts = await page.locator('.caution p, .remarks li').allInnerTexts();
    assert.ok(texts.length > 4);
    assert.equal(new Set(texts).size, texts.length);
    await context.close();
});

test('a change is announced once, when all three answers are there, and the focus stays', async () => {
    const { context, page } = await openQuick(browser, server.url);
    await page.evaluate(() => {
        window.said = [];
        const status = document.querySelector('[role=status]');
        new MutationObserver(() => window.said.push(status.innerText)).observe(status, {
            childList: true,
            characterData: true,
            subtree: true,
        });
    });
    await button(page, 'Bait after').focus();
    await page.keyboard.press('Enter');
    await page.waitForFunction(() => window.said.length > 0);
    await answered(page);
    assert.deepEqual(await page.evaluate(() => window.said), [await sentence(page)]);
    assert.equal(await page.evaluate(() => document.activeElement.getAttribute('aria-label')), 'Bait after');
    await context.close();
});

test('a core that cannot be loaded is said, not hidden', async () => {
    const context = await newContext(browser, { serviceWorkers: 'block' });
    const page = await context.newPage();
    await page.route(/\.wasm$/, (route) => route.fulfill({ status: 404, body: '' }));
    await page.goto(`${server.url}#pot`);
    await page.getByText('The calculator did not start.').waitFor();
    assert.match(await page.getByRole('alert').innerText(), /answer.*\.wasm.*404/);
    await context.close();
});

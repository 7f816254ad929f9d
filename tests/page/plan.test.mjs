// Plan: an answer with every step, the words and drawings the core's; from Home to the card in a few presses.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { before, test } from 'node:test';
import { openPage } from './bank.mjs';
import { browser, button, eventually, native, server, useBrowser } from './common.mjs';
import { SIZES, misplaced, standsWellInAll } from './log.mjs';
import { overhang } from './looks.mjs';
import { WITHY, countedInputs, draft, loadCore, meta, openAll, openAt, openDetails, quick, shows, value, whole } from './plan.mjs';

useBrowser();

let answer; // the core's, beside the page
before(async () => (answer = await loadCore()));

/** Few draws and one spot, where what is claimed does not hang on more: a whole answer then takes a quarter of the time. */
const TWO = quick(WITHY);
const ONE = { ...TWO, spots: WITHY.spots.slice(0, 1), feed: WITHY.feed.slice(0, 1) };
const UNKNOWN_PEG = { depth_least_m: 0.9, depth_most_m: 2, distance_m: 11, wind_least_m_s: 0, wind_most_m_s: 5 };

const PICTURES = ['section', 'above'];
const readings = (page) =>
    page.$$eval('.answer .read', (all) =>
        all.map((one) => ({
            middle: one.querySelector('.n').innerText.replace(/\s+/g, ' '),
            range: one.querySelector('.range')?.innerText ?? '',
            words: one.querySelector('.w').innerText,
        })),
    );
/** "12 s (10-15)" as a reading shows it. */
const shown = (text) => {
    const [, middle, unit = '', range = ''] = /^(\S+)(?: ([^(]+?))?(?: \((.+)\))?$/.exec(text);
    return { middle: middle + unit, range: range && `(${range.replace(/(\d)-(\d)/, '$1\u2013$2')})` };
};
const chip = (page, group, name) => page.getByRole('group', { name: group, exact: true }).getByRole('button', { name, exact: true });

test('a fresh plan is an answer at once: readings, drawings, words and lists are the core\u2019s', async () => {
    const { context, page, faults } = await openAt(browser, server.url, 'plan');
    await whole(page);
    assert.equal(await draft(page, 'plan'), undefined, 'nothing is kept before something is said');
    await button(page, 'Depth more').press('Enter');
    await whole(page);
    const kept = await draft(page, 'plan');
    const core = answer('plan', { ...kept, pictures: PICTURES });
    assert.deepEqual(native('plan', { ...kept, pictures: PICTURES }), core, 'the program answers the same');
    const [spot] = core.spots;
    await page.waitForFunction((text) => document.querySelector('.because').innerText.includes(text), spot.suggestions[0].because);
    await whole(page);
    assert.deepEqual(
        (await readings(page)).map(({ middle, range }) => ({ middle, range })),
        [shown(spot.lay.feed_s.text), shown(spot.lay.wait_s.text), shown(spot.aim.chance.text)],
    );
    assert.deepEqual(await page.locator('.finding').allInnerTexts(), PICTURES.map((name) => spot.pictures[name].finding));
    const titles = await page.$$eval('figure svg title', (all) => all.map((one) => one.textContent));
    assert.deepEqual(titles, PICTURES.map((name) => /<title[^>]*>([^<]*)/.exec(spot.pictures[name].svg)[1]));
    for (const { text } of spot.aim.mend) assert.ok((await page.getByLabel('What to mend first').innerText()).includes(text), text);
    const lists = (await page.locator('.lists').allInnerTexts()).join('\n');
    for (const { because } of spot.suggestions) assert.ok(lists.includes(because), because);
    assert.ok(lists.includes(spot.rig.title));
    for (const { text } of [...core.prep, ...core.pack]) assert.ok(lists.includes(text), text);
    assert.equal(await page.locator('.answer .caution p').first().innerText(), core.notes.find(({ code }) => code === 'power-lines').text);
    assert.deepEqual(faults, []);
    await context.close();
});

test('the numbers and drawings come first, marked "working", the ranges after; what was passed over is thrown away', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', {
        scripts: [
            `const post = Worker.prototype.postMessage; self.asked = [];
             Worker.prototype.postMessage = function (message) {
                 if (message.command === 'plan') self.asked.push(JSON.parse(message.request));
                 return post.call(this, message);
             };`,
        ],
    });
    await whole(page);
    await page.evaluate(() => {
        self.asked.length = 0;
        self.seen = [];
        new MutationObserver(() => {
            const answer = document.querySelector('.answer');
            self.seen.push(`${answer.getAttribute('aria-busy')} ${answer.querySelectorAll('.working').length}`);
        }).observe(document.querySelector('.comes-to'), { subtree: true, childList: true, attributes: true, characterData: true });
    });
    const inputs = countedInputs(page);
    await inputs.hold('Depth more', '1.9');
    await whole(page);
    const seen = await page.evaluate(() => self.seen);
    assert.ok(seen.includes('true 3'), 'the readings stood while their ranges were worked out');
    assert.equal(seen.at(-1), 'false 0');
    const asked = await page.evaluate(() => self.asked);
    const depths = (isNominal) => asked.filter(({ nominal }) => (nominal === true) === isNominal).map(({ spots }) => spots[0].depth_m);
    const { spots } = await draft(page, 'plan');
    assert.equal(depths(true).at(-1), spots[0].depth_m);
    assert.equal(depths(false).at(-1), spots[0].depth_m);
    assert.ok(depths(false).length < depths(true).length, 'not every step is worked out whole');
    const core = answer('plan', await draft(page, 'plan'));
    assert.equal((await readings(page))[1].range, shown(core.spots[0].lay.wait_s.text).range);
    await context.close();
});

test('the steppers do not wait for the ranges: each press is on the screen at once', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan');
    await whole(page);
    const start = parseFloat(await value(page, 'Depth'));
    const late = await page.evaluate(async () => {
        const more = [...document.querySelectorAll('button')].find(({ ariaLabel }) => ariaLabel === 'Depth more');
        const shown = more.closest('.field').querySelector('.value');
        let n = 0;
        for (let i = 0; i < 20; i++) {
            const before = shown.innerText;
            more.click();
            await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
            if (shown.innerText === before) n++;
        }
        return n;
    });
    assert.equal(late, 0);
    assert.ok(Math.abs(parseFloat(await value(page, 'Depth')) - start - 20 * 0.02) < 1e-9);
    await context.close();
});

test('from the first opening to the printed card in at most twelve inputs, each of the short plan\u2019s questions answered', async () => {
    const { context, page, faults } = await openPage(browser, { width: 360, height: 700, scripts: ['self.print = () => (self.nPrints = (self.nPrints ?? 0) + 1);'] });
    await page.goto(server.url);
    const inputs = countedInputs(page);
    await inputs.press(page.getByRole('link', { name: /^Keep as tomorrow/ }));
    await whole(page);
    await inputs.hold('Out more', '13');
    await inputs.hold('Depth more', '2.0');
    await inputs.press(chip(page, 'Wind', 'Light'));
    await inputs.press(chip(page, 'Wind from', 'Left'));
    await inputs.hold('Bait after', 'Hard 6');
    await inputs.press(button(page, 'Pot larger').or(button(page, 'Pot after')));
    await inputs.press(page.getByRole('link', { name: 'Make the card' }));
    await page.waitForSelector('.sheets svg');
    await inputs.press(button(page, 'Print'));
    await page.waitForFunction(() => self.nPrints === 1);
    assert.ok(inputs.n <= 12, `${inputs.n} inputs`);
    assert.deepEqual(faults, []);
    await context.close();
});

const FULL_STEPPERS = [
    'Starts', 'Hours', 'Out', 'Depth', 'Depth, give or take', 'To the right', 'Slope', 'Pole', 'Water', 'Open water', 'Bait', 'Pot',
    'Again after', 'Rig', 'Overdepth', 'Hook bait', 'Marker', 'Marker moves', 'Pole off the marker', 'Lean', 'Pole off its mark', 'Held to within',
];

test('the full plan steps every value of the core\u2019s tables; each step is answered or told in a plain sentence', async () => {
    const { context, page, faults } = await openAt(browser, server.url, 'plan', { plan: ONE, depth: 'full', width: 1280, height: 800 });
    await whole(page);
    const names = await page.$$eval('.known .field:not(.wide)', (all) => all.map((one) => one.ariaLabel));
    assert.deepEqual(names, FULL_STEPPERS);
    for (const name of names) {
        const group = page.getByRole('group', { name, exact: true });
        const before = await value(page, name);
        await group.locator('> button').last().press('Enter');
        assert.notEqual(await value(page, name), before, name);
        await page.waitForSelector('.answer[aria-busy="false"]');
        const refusals = await page.locator('.answer [role=alert]').allInnerTexts();
        assert.deepEqual(refusals, [], name);
        assert.doesNotMatch(await page.locator('#app').innerText(), /NaN|undefined|null|Infinity/, name);
    }
    for (const group of ['Bottom', 'Water moves', 'How it goes in'])
        for (const word of await page.getByRole('group', { name: group, exact: true }).getByRole('button').allInnerTexts()) {
            await chip(page, group, word).click();
            await page.waitForSelector('.answer[aria-busy="false"]');
            assert.deepEqual(await page.locator('.answer [role=alert]').allInnerTexts(), [], word);
        }
    assert.deepEqual(faults, []);
    await context.close();
});

test('"don\u2019t know" is an answer like any other, and widens the ranges instead of stopping them', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { depth: 'full', plan: ONE });
    await whole(page);
    for (const name of ['Slope', 'Water', 'Open water']) {
        await button(page, `Don\u2019t know, ${name}`).click();
        assert.match(await value(page, name), /^Don\u2019t know/);
    }
    await page.waitForSelector('.answer[aria-busy="false"]');
    const plan = await draft(page, 'plan');
    assert.equal(plan.water.temp_c, "don't know");
    assert.equal(plan.spots[0].slope_deg, "don't know");
    const core = answer('plan', plan);
    assert.equal((await readings(page))[0].range, shown(core.spots[0].lay.feed_s.text).range);
    await button(page, 'Water more').press('Enter');
    assert.match(await value(page, 'Water'), /^1\d\.\d/);
    await context.close();
});

test('a chip a spot: one more is added and answered for itself, and taken out again', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { depth: 'full', plan: TWO });
    await whole(page);
    const long = (await readings(page))[0];
    await chip(page, 'Spot', 'Short').click();
    await page.waitForFunction((was) => document.querySelector('.answer .n').innerText !== was, long.middle);
    assert.match(await value(page, 'Depth'), /^1\.30/);
    await chip(page, 'Spot', '+ Spot').click();
    await whole(page);
    assert.equal(await page.getByRole('group', { name: 'Spot', exact: true }).locator('[aria-pressed=true]').innerText(), 'Margin');
    assert.deepEqual((await draft(page, 'plan')).spots.map(({ id }) => id), ['long', 'short', 'margin']);
    await button(page, 'Take margin out').click();
    await whole(page);
    assert.deepEqual((await draft(page, 'plan')).spots, WITHY.spots);
    assert.deepEqual((await draft(page, 'plan')).feed, WITHY.feed);
    await context.close();
});

test('a peg not known yet: ranges in, the core\u2019s set of rigs out', async () => {
    const { context, page, faults } = await openAt(browser, server.url, 'plan', { plan: ONE });
    await whole(page);
    await button(page, 'Peg not known yet').click();
    await page.getByRole('heading', { name: 'Rigs to carry' }).waitFor();
    await button(page, 'Deepest more').press('Enter');
    await whole(page);
    const { unknown_peg } = answer('plan', await draft(page, 'plan'));
    const rows = await page.locator('ol.because li').allInnerTexts();
    assert.ok(rows.length >= 1 && rows.length <= 6);
    assert.deepEqual(rows, unknown_peg.rigs.map(({ title, covers, text }) => `${title}. ${covers}: ${text}.`));
    await button(page, 'Peg not known yet').click();
    assert.equal((await draft(page, 'plan')).unknown_peg, undefined);
    assert.deepEqual(faults, []);
    await context.close();
});

test('a what-if is one press, and says what would be', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: ONE });
    await whole(page);
    const own = answer('plan', ONE).what_if.filter(({ spot }) => spot === 'long');
    assert.ok(own.length > 0);
    for (const { what, text } of own) {
        await chip(page, 'What if', what).click();
        assert.equal(await page.locator('.then').innerText(), text);
    }
    await chip(page, 'What if', own.at(-1).what).click();
    assert.equal(await page.locator('.then').innerText(), '');
    await context.close();
});

const download = async (page, name) => {
    const [out] = await Promise.all([page.waitForEvent('download'), button(page, name).click()]);
    return { name: out.suggestedFilename(), text: await readFile(await out.path(), 'utf8') };
};
const choose = (page, name, text) =>
    page.setInputFiles('input[type=file]', { name, mimeType: 'application/json', buffer: Buffer.from(text) });

test('a plan is saved and opened again; a file of it goes out and comes in as the same plan', async () => {
    const { context, page, faults } = await openAt(browser, server.url, 'plan', { plan: TWO });
    await whole(page);
    await button(page, 'Save plan').click();
    await page.getByText('is saved on this device.').waitFor();
    assert.deepEqual((await meta(page, 'plans')).map(({ plan }) => plan), [TWO]);
    const { name, text } = await download(page, 'As a file');
    assert.equal(name, 'withy-pool-invented.plan.json');
    assert.deepEqual(JSON.parse(text), TWO);
    await button(page, 'Depth more').press('Enter');
    await page.reload(); // kept, however soon it goes
    await whole(page);
    assert.match(await value(page, 'Depth'), /^1\.64/);
    await page.getByText('Saved plans').click();
    await button(page, `Open ${TWO.name}`).click();
    await shows(page, 'Depth', '1.62');
    await button(page, 'Depth more').press('Enter');
    await shows(page, 'Depth', '1.64');
    await choose(page, name, text);
    await shows(page, 'Depth', '1.62');
    await whole(page);
    const read = await draft(page, 'plan');
    const [was, is] = [answer('plan', TWO), answer('plan', read)];
    assert.deepEqual(is.spots, was.spots);
    assert.deepEqual(read.venue, TWO.venue);
    // How it was to be drawn is part of it.
    const drawn = { ...TWO, name: 'Drawn', draws: 64, seed: 7 };
    await choose(page, name, JSON.stringify(drawn));
    await eventually(async () => (await draft(page, 'plan')).name === 'Drawn');
    const { draws, seed } = await draft(page, 'plan');
    assert.deepEqual([draws, seed], [64, 7]);
    assert.deepEqual(faults, []);
    await context.close();
});

test('saving over an older plan, and opening one over what is on the screen, can each be put back', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: ONE });
    await whole(page);
    await button(page, 'Save plan').click();
    await page.getByText('is saved on this device.').waitFor();
    await button(page, 'Depth more').press('Enter');
    await button(page, 'Save plan').click();
    await page.getByText('in the place of the one of').waitFor();
    assert.equal((await meta(page, 'plans'))[0].plan.spots[0].depth_m, 1.64);
    await button(page, 'Put the older one back').click();
    await page.getByText('is the saved one again.').waitFor();
    assert.deepEqual((await meta(page, 'plans')).map(({ plan }) => plan), [ONE]);
    await page.getByText('Saved plans').click();
    await button(page, `Open ${ONE.name}`).click();
    await shows(page, 'Depth', '1.62');
    await button(page, 'Put the one before back').click();
    await shows(page, 'Depth', '1.64');
    await context.close();
});

test('a fault is told by the name on the screen; names out of a file that are one long word, or markup, do no harm', async () => {
    const name = `<img src=x onerror=alert(1)>${'ab'.repeat(60)}`;
    const plan = { ...ONE, name, spots: [{ ...ONE.spots[0], name }], unknown_peg: { ...UNKNOWN_PEG, depth_least_m: 3, depth_most_m: 1 } };
    const { context, page, faults } = await openAt(browser, server.url, 'plan', { plan });
    await page.getByText(/^Deepest is 1 m; accepted is /).waitFor();
    await button(page, 'Save plan').click();
    await page.getByText('is saved on this device.').waitFor();
    assert.ok((await overhang(page)) <= 0);
    assert.deepEqual(faults, []);
    await context.close();
});

test('the start is shown and stepped by the clock that the plan was made with', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: ONE, depth: 'full', timezoneId: 'America/Lima' });
    await whole(page);
    assert.match(await value(page, 'Starts'), /12 Apr, 09:00$/);
    await button(page, 'Starts later').press('Enter');
    assert.match(await value(page, 'Starts'), /12 Apr, 09:30$/);
    assert.equal((await draft(page, 'plan')).session.starts, '2026-04-12T09:30:00+01:00');
    await context.close();
});

test('"back" from the card is the plan', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: ONE });
    await whole(page);
    await page.getByRole('link', { name: 'Make the card' }).click();
    await page.waitForSelector('.sheets');
    await page.goBack();
    await whole(page);
    assert.match(page.url(), /#plan$/);
    await context.close();
});

test('the example plan with amounts in words opens, and its amounts can be stepped', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan');
    const text = await readFile(new URL('../../examples/withy-pool/peg-14.plan.json', import.meta.url), 'utf8');
    await whole(page);
    await choose(page, 'peg-14.plan.json', JSON.stringify(quick(JSON.parse(text))));
    await page.getByText('is open.').waitFor();
    await whole(page);
    await chip(page, 'Spot', 'Long line').click();
    assert.match(await value(page, 'Depth'), /^1\.62 m/);
    await button(page, 'Depth more').press('Enter');
    assert.match(await value(page, 'Depth'), /^1\.64 m/);
    await whole(page);
    assert.equal(await page.locator('.answer [role=alert]').count(), 0);
    await context.close();
});

test('a file that is no plan is told by its name and reason, and the plan stays as it was', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: ONE });
    await whole(page);
    for (const [text, why] of [
        ['{', /JSON/],
        ['[]', /\w/],
        ['{"schema":1,"spots":[{"id":"a","depth":"-1 m"}],"feed":[{"spot":"a","bait":"hard-4"}]}', /depth_m is -1 m; accepted is/],
        [' '.repeat(2 ** 20 + 1), /1 MiB/],
    ]) {
        await choose(page, 'odd.plan.json', text);
        const alert = page.locator('.plan-acts [role=alert]').filter({ hasText: why });
        await alert.waitFor();
        assert.match(await alert.innerText(), /^odd\.plan\.json could not be opened: .*The plan is as it was\.$/s);
        assert.deepEqual(await draft(page, 'plan'), ONE);
    }
    await context.close();
});

test('the evening\u2019s times go into a calendar', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: ONE });
    await whole(page);
    const { name, text } = await download(page, 'Prep times');
    assert.match(name, /\.ics$/);
    assert.match(text, /^BEGIN:VCALENDAR\r\n/);
    assert.equal(text.match(/BEGIN:VEVENT/g).length, answer('plan', ONE).prep.length);
    await context.close();
});

test('another length of the pole brings the cautions again, power lines first', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: ONE, depth: 'full' });
    await whole(page);
    assert.equal(await page.locator('.known .caution').count(), 0);
    await button(page, 'Pole more').press('Enter');
    await page.locator('.known .caution p').first().waitFor(); // the core has answered
    const words = await page.locator('.known [role=alert] p, .known [role=alert] li').allInnerTexts();
    assert.match(words[0], /power lines/);
    assert.ok(words.length >= 4);
    assert.ok(words.some((text) => /fish/.test(text)));
    await context.close();
});

test('every word that is underlined opens one plain line, by keys too, and closes it again', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: ONE, depth: 'full' });
    await whole(page);
    await openDetails(page);
    const terms = page.locator('.term');
    const n = await terms.count();
    assert.ok(n >= 12);
    for (let i = 0; i < n; i++) {
        const term = terms.nth(i);
        assert.equal(await page.locator('.plain').count(), 0);
        await term.focus();
        await page.keyboard.press('Enter');
        const line = page.locator('.plain');
        assert.equal(await line.count(), 1, await term.innerText());
        assert.match(await line.innerText(), /^[A-Z][^\n]{20,160}\.$/);
        assert.equal(await term.getAttribute('aria-expanded'), 'true');
        assert.equal(await term.getAttribute('aria-controls'), await line.getAttribute('id'));
        assert.ok(await term.evaluate((own) => own === document.activeElement));
        await page.keyboard.press('Enter');
    }
    assert.equal(await page.locator('.plain').count(), 0);
    await context.close();
});

test('a change is announced once, when the ranges are there', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: ONE });
    await whole(page);
    await page.evaluate(() => {
        self.said = [];
        const status = document.querySelector('.answer [role=status]');
        new MutationObserver(() => self.said.push(status.innerText)).observe(status, { childList: true, characterData: true, subtree: true });
    });
    await button(page, 'Depth more').press('Enter');
    await page.waitForFunction(() => self.said.length > 0);
    await whole(page);
    const said = await page.evaluate(() => self.said);
    assert.equal(said.length, 1);
    assert.match(said[0].replaceAll('\u00a0', ' '), /^Feed down in .* \(.*\), wait .* \(.*\), then lower; the bait lies on the bed .* in 10/);
    await context.close();
});

test('23. the plan in three looks at each size, short and full, all open: axe finds nothing, nothing too wide, too small or over another', async () => {
    const { context, page, faults } = await openAt(browser, server.url, 'plan', { plan: { ...TWO, unknown_peg: UNKNOWN_PEG } });
    await page.getByRole('heading', { name: 'Rigs to carry' }).waitFor();
    await whole(page);
    for (const name of ['Few questions', 'All questions']) {
        await chip(page, 'How much to plan', name).click();
        await openAll(page);
        await standsWellInAll(page, SIZES, { name });
    }
    assert.deepEqual(faults, []);
    await context.close();
});

test('21. the full plan with text of twice the size: nothing cut, nothing over another, no sideways scroll', async () => {
    const { context, page } = await openAt(browser, server.url, 'plan', { plan: quick(ONE), depth: 'full', width: 320 });
    const session = await context.newCDPSession(page);
    await session.send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
    await page.reload();
    await whole(page);
    await openDetails(page);
    for (const width of [320, 1280]) {
        await page.setViewportSize({ width, height: 700 });
        assert.ok((await overhang(page)) <= 0, `${width}: ${await overhang(page)} px too wide`);
        assert.deepEqual(await misplaced(page), [], `${width}`);
    }
    await context.close();
});

// At the peg: depths and wind in, which spot, which rig and the first half hour out; and on to the Bank with the plan's feed.
import assert from 'node:assert/strict';
import { before, test } from 'node:test';
import { control, keptN, press } from './bank.mjs';
import { UNADVISED } from './bed.mjs';
import { browser, button, server, until, useBrowser } from './common.mjs';
import { SIZES, standsWellInAll } from './log.mjs';
import { WITHY, countedInputs, draft, loadCore, meta, openAll, openAt, openDetails, quick, value, whole } from './plan.mjs';

useBrowser();

let answer;
before(async () => (answer = await loadCore()));

const chip = (page, group, name) => page.getByRole('group', { name: group, exact: true }).getByRole('button', { name, exact: true });
const place = (page, name) => page.getByRole('region', { name, exact: true });
/** What the page asks for what is told, without the drawing. */
const asked = (plan, { peg, wind, side, temp_c, places }) => ({
    plan,
    ...(peg && { peg }),
    plumbed: places.map(({ isPlumbed, ...own }) => own),
    ...(wind && { wind }),
    ...(side && { wind_side: side }),
    ...(temp_c !== undefined && { temp_c }),
});

test('the words, the numbers and the drawing are the core\u2019s', async () => {
    const { context, page, faults } = await openAt(browser, server.url, 'peg', { plan: WITHY });
    await whole(page);
    await chip(page, 'Wind', 'Brisk').click();
    await chip(page, 'Wind from', 'Facing').click();
    await place(page, 'Short').getByRole('button', { name: 'Depth less' }).press('Enter');
    await page.waitForSelector('.answer[aria-busy="false"]');
    const core = answer('peg', { ...asked(WITHY, await draft(page, 'peg')), pictures: ['section'] });
    assert.equal(await page.locator('.answer h2').innerText(), core.spot.text);
    const words = await page.locator('.comes-to').innerText();
    const told = [core.spot.why, core.rig.title, core.rig.text.slice(1), core.rig.why ?? '', core.first_feed.text];
    for (const text of [...told, ...core.half_hour.map(({ text }) => text)]) assert.ok(words.includes(text), text);
    assert.equal(await page.locator('.finding').innerText(), core.pictures.section.finding);
    const range = /\((.+)\)/.exec(core.wait_s.text)[1].replace('-', '\u2013');
    assert.equal(await page.locator('.read .range span').first().innerText(), `(${range})`);
    const lines = core.notes.find(({ code }) => code === 'power-lines').text;
    assert.equal(await page.getByText(lines).count(), 1, 'the power lines once, with the cautions of the screen');
    assert.deepEqual(faults, []);
    await context.close();
});

test('from Home to the Bank in at most fifteen taps: peg, wind, warmth, three depths; FEED, plan and depths come with it', async () => {
    const plan = { ...WITHY, spots: [...WITHY.spots, { id: 'margin', distance_m: 2, depth_m: 0.6, pot: 'my medium' }], feed: [...WITHY.feed, { spot: 'margin', bait: 'hard-6', count: 6, how: 'hand' }] };
    const { context, page, faults } = await openAt(browser, server.url, '', { plan, ...UNADVISED });
    const inputs = countedInputs(page);
    await inputs.press(page.getByRole('link', { name: /^At the peg/ }));
    await whole(page);
    await inputs.hold('Peg more', '14');
    await inputs.press(chip(page, 'Wind', 'Light'));
    await inputs.press(chip(page, 'Wind from', 'Behind'));
    await inputs.press(button(page, 'Water less'));
    for (const name of ['Long', 'Short', 'Margin']) await inputs.press(place(page, name).getByRole('button', { name: 'Depth more' }));
    await whole(page);
    const told = await draft(page, 'peg');
    const core = answer('peg', asked(plan, told));
    await inputs.press(button(page, 'Start'));
    await page.waitForSelector('.outcomes');
    assert.ok(inputs.n <= 15, `${inputs.n} taps`);
    const [open, ...others] = await keptN(page, 5);
    assert.equal(open.kind, 'open');
    assert.deepEqual(open.body, { venue: 'Withy Pool', peg: '14', plan: plan.name });
    const plumbs = others.filter(({ kind }) => kind === 'plumb').map(({ body }) => body);
    assert.deepEqual(plumbs.map(({ spot, depth_m }) => [spot, depth_m]), told.places.map(({ id, depth_m }) => [id, depth_m]));
    assert.equal(others.find(({ kind }) => kind === 'water').body.temp_c, 11);
    const { spot } = core.spot;
    const line = plan.feed.find((own) => own.spot === spot);
    await press(page, 'feed');
    const fed = (await keptN(page, 6)).at(-1);
    assert.equal(fed.body.bait, line.bait);
    assert.equal(fed.body.how, line.how);
    assert.equal(fed.body.spot, spot);
    assert.equal(fed.body.count, line.count);
    const { wait_s } = await meta(page, 'carried');
    assert.ok(Math.abs(wait_s - core.wait_s.mid) < 1e-9);
    if (line.how === 'clump')
        await until(page, () => /^(in \d:\d\d|now)$/.test(document.querySelector('[data-press=rig] span').innerText));
    assert.equal(await draft(page, 'peg'), undefined);
    assert.match(await control(page, 'feed').innerText(), /FEED/);
    assert.deepEqual(faults, []);
    await context.close();
});

test('a rig out of those that are carried: which one of how many, why, and why not each of the others', async () => {
    const plan = { ...WITHY, kit: { ...WITHY.kit, rigs: [{ id: 'light' }, { id: 'middle' }, { id: 'heavy' }] } };
    const { context, page } = await openAt(browser, server.url, 'peg', { plan });
    await whole(page);
    await chip(page, 'Wind', 'Light').click();
    await whole(page);
    const { rig } = answer('peg', asked(plan, await draft(page, 'peg')));
    await openDetails(page);
    const words = await page.locator('.answer').innerText();
    assert.match(rig.text, /^rig [123] of the three you carry$/);
    assert.equal(rig.why_not.length, 2);
    for (const text of [rig.text.slice(1), rig.why, ...rig.why_not]) assert.ok(words.includes(text), text);
    await context.close();
});

test('all the cautions stand before everything else, power lines first', async () => {
    const { context, page } = await openAt(browser, server.url, 'peg', { plan: quick(WITHY) });
    await whole(page);
    const words = await page.locator('.known > .caution p').allInnerTexts();
    assert.equal(words.length, 4);
    assert.match(words[0], /power lines/);
    const top = async (selector) => (await page.locator(selector).first().boundingBox()).y;
    assert.ok((await top('.known > .caution')) < (await top('.known > .field')));
    await context.close();
});

test('places of the plan come first, up to six; where each lies and what its bottom is can be told', async () => {
    const { context, page } = await openAt(browser, server.url, 'peg', { plan: quick(WITHY) });
    await whole(page);
    assert.equal(await page.locator('.place').count(), 2);
    for (let n = 3; n <= 6; n++) {
        await button(page, 'Add a place').click();
        assert.equal(await page.locator('.place').count(), n);
    }
    assert.equal(await button(page, 'Add a place').count(), 0);
    await openDetails(page);
    const last = place(page, 'Place 6');
    await last.getByRole('button', { name: 'Out more' }).press('Enter');
    await last.getByRole('button', { name: 'Gravel' }).click();
    const { places } = await draft(page, 'peg');
    assert.equal(places[5].bottom, 'gravel');
    assert.equal(places[5].distance_m, 5.5);
    assert.deepEqual(places.slice(0, 2).map(({ id, depth_m }) => [id, depth_m]), WITHY.spots.map(({ id, depth_m }) => [id, depth_m]));
    await page.waitForSelector('.answer[aria-busy="false"]');
    assert.equal(await page.locator('.answer [role=alert]').count(), 0);
    await context.close();
});

test('what was told is there after a reload, and starts afresh with another plan', async () => {
    const { context, page } = await openAt(browser, server.url, 'peg', { plan: quick(WITHY) });
    await whole(page);
    await button(page, 'Peg more').press('Enter');
    await chip(page, 'Wind', 'Brisk').click();
    await page.reload();
    await whole(page);
    assert.equal(await value(page, 'Peg'), '1');
    assert.equal(await chip(page, 'Wind', 'Brisk').getAttribute('aria-pressed'), 'true');
    await page.evaluate(
        (plan) =>
            new Promise((resolve) => {
                indexedDB.open('baitfall').onsuccess = ({ target }) => {
                    const change = target.result.transaction('drafts', 'readwrite');
                    change.objectStore('drafts').put(plan, 'plan');
                    change.oncomplete = () => (target.result.close(), resolve());
                };
            }),
        { ...quick(WITHY), name: 'Another' },
    );
    await page.reload();
    await whole(page);
    assert.equal(await value(page, 'Peg'), 'Not told');
    await context.close();
});

test('offline it answers and starts just the same', async () => {
    const { context, page } = await openAt(browser, server.url, 'peg', { plan: quick(WITHY), serviceWorkers: 'allow' });
    await whole(page);
    await page.goto(`${server.url}#`);
    await page.getByText(/^Ready offline: yes/).waitFor();
    await context.setOffline(true);
    await page.reload();
    await page.getByRole('link', { name: /^At the peg/ }).click();
    await whole(page);
    await chip(page, 'Wind', 'Light').click();
    await whole(page);
    await button(page, 'Start').click();
    await page.waitForSelector('.outcomes');
    await context.close();
});

test('23. the peg in three looks at each size, all open: axe finds nothing, nothing too wide, too small or over another', async () => {
    const { context, page, faults } = await openAt(browser, server.url, 'peg', { plan: quick(WITHY) });
    await whole(page);
    await openAll(page);
    await standsWellInAll(page, SIZES);
    assert.deepEqual(faults, []);
    await context.close();
});

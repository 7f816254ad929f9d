// Settings in one place: the hand that presses, units for each quantity, keys; kept on this device.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { control, counted, key, keptN, openPage, startSession } from './bank.mjs';
import { browser, button, eventually, server, useBrowser } from './common.mjs';
import { collidingTexts, cutTexts, overhang } from './looks.mjs';
import { draft, openAt, value } from './plan.mjs';
import { standsEverywhere } from './stands.mjs';

useBrowser();

const choose = (page, label, word) => page.getByRole('group', { name: label, exact: true }).getByRole('button', { name: word, exact: true }).press('Enter');
const at = async (locator) => (await locator.boundingBox()).x;

test('with the left hand all that is pressed changes sides, on the Bank and between steppers, and stands; it is remembered', async () => {
    const { context, page, faults } = await openAt(browser, server.url, 'settings');
    const look = page.locator('button.look');
    const right = await at(look);
    await choose(page, 'The hand that presses', 'Left');
    assert.ok((await at(look)) < right - 200);
    await page.goto(`${server.url}#pot`);
    await page.waitForSelector('.answer[aria-busy="false"] .read');
    const name = page.getByRole('group', { name: 'Depth' }).locator('.value');
    assert.ok((await at(button(page, 'Depth more'))) < (await at(name)));
    assert.ok((await at(button(page, 'Depth less'))) < (await at(button(page, 'Depth more'))));
    await startSession(page, server.url);
    for (const [width, height] of [[320, 640], [360, 700], [640, 320]]) {
        await page.setViewportSize({ width, height });
        assert.ok((await at(control(page, 'rig'))) < (await at(control(page, 'feed'))), `${width}`);
        assert.ok((await at(control(page, 'missed'))) < (await at(control(page, 'fish'))), `${width}`);
        assert.ok((await overhang(page)) <= 0);
        assert.deepEqual(await cutTexts(page), []);
        assert.deepEqual(await collidingTexts(page), []);
    }
    await page.reload();
    await page.waitForSelector('.outcomes');
    assert.ok((await at(control(page, 'rig'))) < (await at(control(page, 'feed'))));
    assert.deepEqual(faults, []);
    await context.close();
});

test('each quantity is shown, stepped and typed in the unit that was chosen for it; what is kept is SI', async () => {
    const { context, page, faults } = await openAt(browser, server.url, 'settings', { depth: 'full' });
    for (const [label, word] of [['Depth', 'ft, in'], ['Distance', 'ft'], ['Line, rig and jar', 'in'], ['Temperature', '\u00b0F'], ['Wind', 'mph'], ['Fish on the scales', 'kg']])
        await choose(page, label, word);
    await page.goto(`${server.url}#pot`);
    await page.waitForSelector('.answer[aria-busy="false"] .read');
    assert.equal(await value(page, 'Depth'), '4 ft 11 in 1.50 m');
    assert.equal(await value(page, 'Water'), '53.6 \u00b0F'); // 12 C
    await page.goto(`${server.url}#plan`);
    await page.waitForSelector('.plan');
    assert.equal(await value(page, 'Depth'), '4 ft 11 in 1.50 m');
    assert.equal(await value(page, 'Out'), '36 ft'); // 11 m is 36.09 ft
    for (const name of ['Depth more', 'Depth more', 'Out more', 'Water more', 'Depth, give or take more']) await button(page, name).press('Enter');
    assert.equal(await value(page, 'Depth'), '5 ft 1 in 1.55 m');
    assert.equal(await value(page, 'Out'), '38 ft');
    assert.equal(await value(page, 'Water'), '54 \u00b0F');
    await page.getByText(/^Not told: 4\.47\smph, give or take 3\.4\smph$/).waitFor(); // 2 m/s
    const near = (si, wanted) => assert.ok(Math.abs(si - wanted) < 1e-8, `${si} for ${wanted}`);
    const plan = await eventually(async () => {
        const kept = await draft(page, 'plan');
        return kept?.spots[0].depth_pm_m && kept;
    });
    near(plan.spots[0].depth_m, 61 * 0.0254);
    near(plan.spots[0].distance_m, 38 * 0.3048);
    near(plan.water.temp_c, (54 - 32) / 1.8);
    near(plan.spots[0].depth_pm_m % 0.0127, 0);

    await startSession(page, server.url);
    await page.goto(`${server.url}#log`);
    await button(page, 'Add missed').click();
    await page.getByRole('group', { name: 'What to add' }).getByRole('button', { name: 'Depth', exact: true }).click();
    await page.locator('.sheet').getByLabel('Depth', { exact: true }).fill('5');
    await page.locator('.sheet').getByLabel('Out from the bank').fill('11 m');
    await button(page, 'Keep').click();
    const events = await keptN(page, 2);
    near(events[1].body.depth_m, 1.524);
    near(events[1].body.distance_m, 11);
    assert.deepEqual(faults, []);
    await context.close();
});

test('a clicker\u2019s key is given to what it is to do; the one who had it gets the other; off is off', async () => {
    const { context, page, faults } = await openPage(browser, { width: 360, height: 700, hasClock: true });
    await page.goto(`${server.url}#settings`);
    await button(page, 'Fish 1').click();
    await page.keyboard.press('PageDown');
    await page.getByText('Fish is PageDown now.').waitFor();
    await button(page, 'Missed 2').click();
    await page.keyboard.press('3');
    await button(page, 'Lost 2').waitFor();
    await button(page, 'Missed 3').waitFor();
    await button(page, 'Touch 4').click();
    await page.keyboard.press('Escape');
    await button(page, 'Touch 4').waitFor();
    await startSession(page, server.url);
    await page.keyboard.press('1'); // nobody's any more
    await page.keyboard.press('PageDown');
    await counted(page, 'fish', 1);
    await page.keyboard.press('3');
    await counted(page, 'missed', 1);
    assert.deepEqual((await keptN(page, 3)).map(({ body }) => body.outcome), [undefined, 'landed', 'missed']);
    await page.goto(`${server.url}#settings`);
    await choose(page, 'Keys', 'Off');
    await button(page, 'The first keys again').click();
    await button(page, 'Fish 1').waitFor();
    await page.goto(`${server.url}#bank`);
    await page.waitForSelector('.outcomes');
    await key(page, 'fish');
    await page.evaluate(() => new Promise((painted) => requestAnimationFrame(painted)));
    await keptN(page, 3);
    assert.deepEqual(faults, []);
    await context.close();
});

test('the settings stand in every look and width and with letters of twice the size; axe finds nothing', async () => {
    const { context, page, faults } = await openAt(browser, server.url, 'settings');
    await standsEverywhere(page);
    assert.deepEqual(faults, []);
    await context.close();
});

// The first opening: three things asked and answered at once, three ways on, and an invented day that stays out of the record.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { test } from 'node:test';
import { kept, openPage } from './bank.mjs';
import { answered, browser, button, program, sentence, server, useBrowser } from './common.mjs';
import { draft, meta, value, whole } from './plan.mjs';
import { standsEverywhere } from './stands.mjs';

useBrowser();

const DAY = new URL('../../examples/withy-pool/spring-day.journal.jsonl', import.meta.url).pathname;
const way = (page, words) => page.getByRole('link', { name: words });

test('a stranger is asked three things and answered at once; what was told is tomorrow\u2019s plan, and from then on Home comes first', async () => {
    const { context, page, faults } = await openPage(browser, { width: 360, height: 700 });
    await page.goto(server.url);
    await answered(page);
    const box = await page.locator('.answer .lead').boundingBox();
    assert.ok(box.y < 700, 'the answer begins on the first screen');
    assert.match(await sentence(page), /^About \d+ in the pot/);
    await page.getByText('In brackets: the range that 8 in 10 would lie in.').waitFor();
    assert.deepEqual(await page.locator('.jobs a b').allInnerTexts(), ['Keep as tomorrow\u2019s plan', 'Start at the peg', 'See an invented day']);
    await button(page, 'Depth more').press('Enter');
    await button(page, 'Pot larger').press('Enter');
    await way(page, /^Keep as tomorrow/).press('Enter');
    await whole(page);
    assert.match(await value(page, 'Depth'), /^1\.55 m/);
    const plan = await draft(page, 'plan');
    assert.equal(plan.spots[0].depth_m, 1.55);
    assert.equal(plan.spots[0].pot, 'large');
    assert.equal(plan.feed[0].bait, 'hard-4');
    assert.equal((await meta(page, 'setup')).pot, 'large', 'a session without the plan begins with it too');
    await page.goto(`${server.url}#rehearse`);
    await page.waitForSelector('.begin');
    await button(page, 'A plan').waitFor(); // it was kept: nobody asks whether it was saved
    await page.goto(server.url);
    await page.getByRole('link', { name: /^Plan tomorrow/ }).waitFor();
    assert.deepEqual(faults, []);
    await context.close();
});

test('the session of a stranger feeds what was told on the first screen', async () => {
    const { context, page } = await openPage(browser, { width: 360, height: 700 });
    await page.goto(server.url);
    await answered(page);
    await button(page, 'Bait after').press('Enter');
    await answered(page);
    const told = JSON.parse(await page.evaluate(() => localStorage['baitfall.quick']));
    assert.notEqual(told.bait, 'hard-4');
    await way(page, /^Start at the peg/).press('Enter');
    await button(page, 'Start').click();
    await page.waitForSelector('.outcomes');
    assert.equal((await meta(page, 'setup')).bait, told.bait);
    await context.close();
});

test('the invented day says that it is invented, is told as the program tells it, and leaves nothing in the record', async () => {
    const { context, page, faults } = await openPage(browser, { width: 360, height: 700 });
    await page.goto(server.url);
    await way(page, /^See an invented day/).press('Enter');
    await page.waitForSelector('.sentences li');
    assert.match(await page.locator('.caution').first().innerText(), /^Invented, from start to end\..*There is no Withy Pool/s);
    const { sentences } = JSON.parse(execFileSync(program, ['review', DAY, '--json'], { maxBuffer: 1 << 26 }));
    assert.deepEqual(await page.locator('.sentences li').allInnerTexts(), sentences);
    assert.deepEqual(await kept(page), []);
    await page.getByRole('link', { name: 'Home' }).click();
    await way(page, /^Look back/).click();
    await page.getByText('No session yet.').waitFor();
    assert.deepEqual(faults, []);
    await context.close();
});

test('nothing of the first opening is cut or covered in any look, narrow, wide or with letters of twice the size; axe finds nothing', async () => {
    const { context, page } = await openPage(browser, { width: 360, height: 700 });
    await page.goto(server.url);
    await answered(page);
    await standsEverywhere(page);
    await context.close();
});

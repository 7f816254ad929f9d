// Kit: what the angler has, measured at home by watch, counter and tube; the numbers are the program's, and the plan takes them.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { openPage } from './bank.mjs';
import { browser, button, eventually, program, server, until, useBrowser } from './common.mjs';
import { draft, keepDraft, loadCore, meta, openAt } from './plan.mjs';
import { standsEverywhere } from './stands.mjs';

useBrowser();

const TIME = '2026-04-11T19:00:00';
/** @param measuring  a measurement that was begun before */
async function openKit(options = {}, measuring) {
    const opened = await openPage(browser, { width: 360, height: 700, ...options });
    const { page } = opened;
    await page.goto(`${server.url}#kit`);
    await button(page, 'Drop test How fast a bait sinks: a jar, water, ten pieces').waitFor();
    if (measuring) {
        await keepDraft(page, 'measure', measuring);
        await page.reload();
        await page.waitForSelector('.measure');
    }
    return opened;
}
const add = async (page, thing, word) => {
    await page.getByLabel(`${thing} to add`).selectOption(word);
    await button(page, `Add the ${thing.toLowerCase()}`).click();
};
const reading = (page, i) => page.locator('.taken li').nth(i).locator('b, s').innerText();
/** What the sheet says that the readings come to, once it is of all of them. */
async function comesTo(page, n) {
    await until(page, (n) => document.querySelectorAll('.taken li').length === n && document.querySelector('.measure .answer[aria-busy="false"] .read'), n);
    return (await page.locator('.measure .answer').innerText()).replaceAll('\u00a0', ' ');
}

test('a drop test by the watch: the times are those between the presses, the kit is the program\u2019s to the last figure, and the plan takes it', async (t) => {
    const { context, page, faults } = await openKit({ time: new Date(TIME) });
    await add(page, 'Bait', 'hard-4');
    await page.getByRole('button', { name: /^Drop test/ }).click();
    await page.evaluate(() => {
        window.presses = [];
        addEventListener('click', (event) => /Let go|Landed/.test(event.target.innerText) && window.presses.push(performance.now()), true);
    });
    for (const ms of [2140, 2080, 2310, 3900, 2220, 2010]) {
        await button(page, 'Let go').press('Enter');
        await page.clock.fastForward(ms);
        await button(page, 'Landed').press('Enter');
    }
    await button(page, /^Cross out reading 4/).click(); // one that hung on the way
    const words = await comesTo(page, 6);
    const presses = await page.evaluate(() => window.presses);
    const times = await Promise.all([5, 4, 3, 2, 1, 0].map(async (i) => parseFloat(await reading(page, i))));
    times.forEach((s, i) => assert.ok(Math.abs(s - (presses[2 * i + 1] - presses[2 * i]) / 1000) < 0.05, `${s} s, reading ${i + 1}`));
    assert.ok(times[0] >= 2.14 && times[3] >= 3.9);

    const folder = await mkdtemp(join(tmpdir(), 'baitfall-kit-'));
    t.after(() => rm(folder, { recursive: true }));
    const file = join(folder, 'kit.json');
    await writeFile(file, '{"baits":[{"id":"hard-4"}]}');
    const kept = times.filter((_, i) => i !== 3).join();
    const args = ['measure', 'drop', 'hard-4', '--height', '25cm', '--times', kept, '--date', '2026-04-11', '--kit', file, '--json'];
    const said = JSON.parse(execFileSync(program, args));
    const density = / now (\S+) kg\/m3 \((\S+?)-(\S+)\)/.exec(said.text);
    assert.ok(words.includes(density[1]) && words.includes(`(${density[2]}\u2013${density[3]})`), words);
    assert.match(words, /to the bottom of 1\.50 m; before \S+ s \(/);

    await button(page, 'Keep it in the kit').click();
    await page.getByText('Kept as hard-4, the old values with their date.').waitFor();
    assert.deepEqual(await meta(page, 'kit'), said.kit);
    assert.deepEqual(await meta(page, 'kit'), JSON.parse(await readFile(file, 'utf8')));
    await page.getByText('Drop test, 2026-04-11').waitFor();
    await page.goto(`${server.url}#plan`);
    await page.waitForSelector('.plan');
    await button(page, 'Bait after').press('Enter');
    const plan = await eventually(() => draft(page, 'plan'));
    assert.deepEqual(plan.kit.baits, said.kit.baits);
    await page.goto(`${server.url}#pot`);
    await until(page, () => document.querySelectorAll('.answer[aria-busy="false"] .read').length === 3);
    const ask = await loadCore();
    const { time_s } = ask('fall', { bait: 'hard-4', water: { depth_m: 1.5, temp_c: 12 }, kit: said.kit });
    const [, middle, lo, hi] = /^(\S+) s \((\S+)-(\S+)\)$/.exec(time_s.text);
    const shown = await page.locator('.read').nth(1).innerText();
    assert.ok(shown.includes(middle) && shown.includes(`(${lo}\u2013${hi})`), `${shown} for ${time_s.text}`);
    assert.deepEqual(faults, []);
    await context.close();
});

test('a counted pot and a float in a tube: counted by presses, kept while the page is away, answered as the core does; undone by one press', async () => {
    const ask = await loadCore();
    const { context, page, faults } = await openKit();
    await page.getByRole('button', { name: /^Count a pot/ }).click();
    for (const filling of [[10, 5], [10, 1, 1]]) {
        for (const n of filling) await button(page, `+${n}`).press('Enter');
        await button(page, 'That was the filling').press('Enter');
    }
    await comesTo(page, 2);
    await page.reload(); // nothing is lost
    const words = await comesTo(page, 2);
    const { of } = await draft(page, 'measure');
    const counted = ask('measure', { what: 'count', date: '2026-04-11', ...of, count: [15, 12] });
    const [, size] = /diameter.*now (\S+) mm/.exec(counted.text);
    assert.ok(words.includes(`${size} mm`) || words.includes(`${size}mm`) || words.includes(`${size}\nmm`), words);
    await button(page, 'Put it away').click();

    await page.getByRole('button', { name: /^Float in a tube/ }).click();
    for (const size of ['No 8', 'No 8', 'No 9']) await button(page, size).press('Enter');
    await button(page, 'The bristle begins here').press('Enter');
    await comesTo(page, 1);
    const { shots } = ask('catalogue', {});
    const mass = (word) => shots.find((shot) => shot.word === word).mass_kg;
    const { taken } = await draft(page, 'measure');
    assert.ok(Math.abs(taken[0].values[0] - (2 * mass('No 8') + mass('No 9'))) < 1e-12);
    assert.match(await reading(page, 0), /2 \u00d7 No 8, 1 \u00d7 No 9$/);
    await button(page, 'The shot is weighed').click();
    await button(page, /^Cross out reading 1/).click();
    for (const text of ['0.19 g', '0.2 g']) {
        await page.getByLabel('It took').fill(text);
        await button(page, 'Note it').click();
    }
    const weighed = await comesTo(page, 3);
    const { of: rig } = await draft(page, 'measure');
    const exact = ask('measure', { what: 'float', date: '2026-04-11', ...rig, took_kg: ['0.19 g', '0.2 g'], mass_frac: 1, mass_pm_frac: 0.02 });
    const [, lo, hi] = /not known, now \S+ g \((\S+)-(\S+)\)/.exec(exact.text);
    assert.ok(weighed.includes(`(${lo}\u2013${hi})`), weighed);
    await button(page, 'Keep it in the kit').click();
    await page.getByText(/^Kept as /).waitFor();
    assert.equal((await meta(page, 'kit')).rigs.length, 1);
    await button(page, 'Put it back').click();
    await page.getByText('The kit is as it was before.').waitFor();
    assert.deepEqual(await meta(page, 'kit'), {});
    assert.deepEqual(faults, []);
    await context.close();
});

test('amounts typed in are read by the core, which says what is wrong; a kit given a plan that has one goes over it row by row', async () => {
    const plan = { schema: 1, name: 'Mine', spots: [{ id: 'long', distance_m: 11, depth_m: 1.5 }], feed: [{ spot: 'long', bait: 'hard-4' }], kit: { baits: [{ id: 'own', density_kg_m3: 1200 }, { id: 'hard-4', name: 'the blue bag' }] } };
    const { context, page, faults } = await openAt(browser, server.url, 'kit', { plan });
    await add(page, 'Bait', 'hard-4');
    await page.getByRole('button', { name: /^Weigh soaked/ }).click();
    const note = async (at, wet) => {
        await page.getByLabel('Under water for').fill(at);
        await page.getByLabel('Weighs now').fill(wet);
        await button(page, 'Note it').click();
    };
    await note('5 parsecs', '25 g');
    await page.getByText(/parsecs/).nth(1).waitFor();
    assert.match(await page.locator('.answer [role=status]').innerText(), /at_s.*"5 parsecs".*; accepted is/);
    await button(page, /^Cross out reading 1/).click();
    for (const [at, wet] of [['5 min', '26 g'], ['15 min', '29 g'], ['1 h', '33 g']]) await note(at, wet);
    await comesTo(page, 4);
    await button(page, 'Keep it in the kit').click();
    await page.getByText(/^Kept as hard-4/).waitFor();
    const { kit } = await draft(page, 'plan');
    assert.deepEqual(kit.baits[0], { id: 'own', density_kg_m3: 1200 });
    assert.equal(kit.baits[1].name, 'the blue bag');
    assert.equal(kit.baits[1].was[0].by, 'soak');
    assert.deepEqual(faults, []);
    await context.close();
});

test('kit and measurement in every look and width, with letters of twice the size: nothing cut, covered, or too small; axe finds nothing', async () => {
    const begun = { what: 'drop', of: { bait: 'hard-4' }, values: { height_m: 0.25 }, taken: [2.1, 2.2, 2.05, 2.3, 2.0].map((s) => ({ values: [s], said: `${s} s` })) };
    for (const measuring of [undefined, begun, { ...begun, what: 'float', of: { rig: 'light' }, values: {}, taken: [] }]) {
        const { context, page } = await openKit({}, measuring);
        if (measuring === begun) await comesTo(page, 5);
        await standsEverywhere(page);
        await context.close();
    }
});

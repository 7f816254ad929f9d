// Trial: planned by lot, begun with one line in the record, and analysed: the same answers as `baitfall trial`.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { test } from 'node:test';
import { keptN, startSession } from './bank.mjs';
import { browser, button, eventually, program, server, until, useBrowser } from './common.mjs';
import { openScreen } from './log.mjs';
import { draft, value } from './plan.mjs';
import { standsEverywhere } from './stands.mjs';

useBrowser();

/** Twelve blocks by the plan of seed 7: one to three bites in a block of soft two, three or four of hard four (tests/cli/trial_by_hand.cmd). */
function dayByHand() {
    const lines = [];
    const at = (s) => new Date(Date.UTC(2026, 3, 12, 8) + 1000 * s).toISOString().replace('Z', '+00:00');
    const line = (s, kind, body) => {
        const id = (n) => n.toString(16).padStart(32, '0');
        const n = lines.length + 1;
        lines.push(JSON.stringify({ v: 1, id: id(n), session: id(1), dev: '00000001', run: '00000001', seq: n, kind, at: at(s), pm_s: 5, rec: at(s), body }));
    };
    line(0, 'open', { venue: 'Withy Pool (invented)', note: 'trial seed 7, 12 blocks of 20 min, first 5 min dropped, a = soft two, b = hard four' });
    [...'bababaababab'].forEach((feed, block) => {
        const bites = feed === 'b' ? 3 + (block % 2) : 1 + (block % 3);
        for (let i = 1; i <= bites; i++) {
            line(block * 1200 + 300 + i * 120, 'lower', {});
            line(block * 1200 + 360 + i * 120, 'lift', { outcome: 'missed' });
        }
        line(block * 1200 + 900, 'lower', {});
        line(block * 1200 + 1190, 'lift', { outcome: 'nothing' });
    });
    line(14_400, 'close', {});
    return lines;
}

const cells = (page, title) =>
    page.locator(`[aria-label="${title}"] tbody tr`).evaluateAll((all) => all.map((row) => [...row.children].map((cell) => cell.textContent)));

test('what came of a trial is the program\u2019s answer, of bites and of fish, and it stands in every look', async () => {
    const lines = dayByHand();
    const { context, page, faults } = await openScreen(browser, server.url, 'trial', { lines });
    const told = (...more) => JSON.parse(execFileSync(program, ['trial', '-', '--json', ...more], { input: lines.join('\n'), maxBuffer: 1 << 26 }));
    const shows = async ({ sentences, tables }) => {
        await until(page, (words) => [...document.querySelectorAll('.sentences li')].map((one) => one.innerText).join() === words, sentences.join());
        for (const { title, rows } of tables.filter(({ rows }) => rows.length > 0)) assert.deepEqual(await cells(page, title), rows);
    };
    const bites = told();
    assert.match(bites.sentences[0], /hard four bites came 1\.4/);
    await shows(bites);
    await button(page, 'Fish').click();
    await shows(told('--set', 'measure=fish'));
    await button(page, 'The last day alone').click();
    await shows(told('--set', 'measure=fish', '--set', 'alone=true'));
    await page.getByText('The turns').first().waitFor();
    await standsEverywhere(page);
    assert.deepEqual(faults, []);
    await context.close();
});

test('a trial is planned by steppers as the program plans it, and its line is one press into the open session', async () => {
    const { context, page, faults } = await openScreen(browser, server.url, 'trial');
    await page.getByText('No trial in the record yet.').waitFor();
    await button(page, 'Hours less').press('Enter');
    await button(page, 'Bites expected more').press('Enter');
    await button(page, 'Number of the lot more').press('Enter');
    const { plan } = await eventually(async () => {
        const kept = await draft(page, 'trial');
        return kept?.plan.seed && kept;
    });
    assert.deepEqual([plan.hours, plan.bites_per_h, plan.seed], [4.5, 15, 2]);
    const args = ['trial', 'plan', '--set', `a=${plan.a}`, '--set', `b=${plan.b}`, '--hours', '4.5', '--bites', '15', '--seed', '2', '--json'];
    const said = JSON.parse(execFileSync(program, args));
    await page.getByText(said.note, { exact: true }).waitFor();
    const blocks = said.tables.find(({ name }) => name === 'blocks');
    assert.deepEqual(await cells(page, blocks.title), blocks.rows);
    await page.getByText('It begins in a session').waitFor();

    await startSession(page, server.url);
    await page.goto(`${server.url}#trial`);
    await button(page, 'Begin the first block now').click();
    await page.getByText('It has begun.').waitFor();
    const [, note] = await keptN(page, 2);
    assert.equal(note.kind, 'note');
    assert.equal(note.body.note, said.note);
    assert.match((await cells(page, 'The turns'))[0][1], /^\d\d?:\d\d$/); // by the clock from now on
    assert.equal(await value(page, 'Hours'), '4.5 h');
    assert.deepEqual(faults, []);
    await context.close();
});

// Season: the same answers as `baitfall season`, in words and tables.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { session } from './bank.mjs';
import { holding } from './bed.mjs';
import { browser, program, server, until, useBrowser } from './common.mjs';
import { dayOf, openScreen } from './log.mjs';
import { standsEverywhere } from './stands.mjs';

useBrowser();

/** Three closed days, made up for the tests. */
const LINES = [1, 2, 3].flatMap((k) => session([...dayOf(k, 60), ['close']], { step: 90, ago: k * 86_400, first: k * 1000 }));

/** What the program says of them; what it foretold is the command line's alone. */
const saidOf = (lines, ...options) => {
    const said = JSON.parse(execFileSync(program, ['season', '-', '--json', ...options], { input: lines.join('\n'), maxBuffer: 1 << 26 }));
    return { ...said, tables: said.tables.filter(({ name, rows }) => rows.length > 0 && name !== 'foretold') };
};
const tableOf = (page, title) =>
    page
        .locator(`[aria-label="${title}"] tbody tr`)
        .evaluateAll((all) => all.map((row) => [...row.children].map((cell) => cell.textContent)));

const isLearned = ({ name, code }) => (name ?? code).startsWith('learned');

/** Every sentence, cell and note on the screen is the program's. */
async function isSaid(page, said) {
    assert.deepEqual(await page.locator('.sentences li').allInnerTexts(), said.sentences);
    assert.ok(said.tables.some(({ rows }) => rows.length > 1));
    for (const { title, rows } of said.tables) assert.deepEqual(await tableOf(page, title), rows, title);
    const notes = [...said.notes.filter((note) => !isLearned(note)), ...said.notes.filter(isLearned)];
    const shown = await page.locator('.remarks li, .season-learned li').allTextContents();
    assert.deepEqual(shown, notes.map(({ text }) => text));
}

/** From now on every text about what is being learned is kept in the page's `told`. */
const hearken = (page) =>
    page.evaluate(() => {
        self.told = [];
        const hear = () => self.told.push(document.querySelector('.learning')?.textContent);
        new MutationObserver(hear).observe(document.body, { subtree: true, childList: true, characterData: true });
    });

test('the season is the program\u2019s, sentence by sentence and cell by cell, the word about cause too', async () => {
    const { onContext } = holding(); // nothing is learned meanwhile
    const { context, page, faults } = await openScreen(browser, server.url, 'season', { lines: LINES, onContext });
    await page.waitForSelector('.sentences li');
    const said = saidOf(LINES);
    await isSaid(page, said);
    assert.ok(said.notes.some(({ code }) => code === 'confounded'));
    await standsEverywhere(page);
    assert.deepEqual(faults, []);
    await context.close();
});

test('what the model of the bed learned from the sessions is what the program says, once it is worked out; till then the screen says how far it is', async () => {
    const day = await readFile(new URL('../../examples/withy-pool/spring-day.journal.jsonl', import.meta.url), 'utf8');
    const lines = [...day.trimEnd().split('\n'), ...session([...dayOf(1, 12), ['close']], { step: 90, ago: 86_400 })];
    const { onContext, letGo } = holding();
    const { context, page, faults } = await openScreen(browser, server.url, 'season', { lines, onContext });
    await page.waitForSelector('.learning');
    await hearken(page);
    letGo();
    const said = saidOf(lines, '--learned');
    const { title } = said.tables.find(isLearned);
    await until(page, (title) => document.querySelector(`[aria-label="${title}"]`) !== null, title);
    await isSaid(page, said);
    const told = (await page.evaluate(() => self.told)).join('\n');
    assert.match(told, /worked out once: 0 of 2 done, each takes some seconds, on a phone up to a minute\./);
    assert.match(told, /worked out once: 1 of 2 done, (about \d+ s to go|about \d+ min to go|each takes)/);
    await standsEverywhere(page);
    assert.deepEqual(faults, []);
    await context.close();
});

test('without a session there is no season, and one way to it', async () => {
    const { context, page } = await openScreen(browser, server.url, 'season');
    await page.getByText('No session yet.').waitFor();
    assert.equal(await page.locator('.sentences, .scroll').count(), 0);
    await context.close();
});

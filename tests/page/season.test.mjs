// Season: the same answers as `baitfall season`, in words and tables.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { test } from 'node:test';
import { session } from './bank.mjs';
import { browser, program, server, until, useBrowser } from './common.mjs';
import { dayOf, openScreen } from './log.mjs';
import { standsEverywhere } from './stands.mjs';

useBrowser();

/** Three closed days, made up for the tests. */
const LINES = [1, 2, 3].flatMap((k) => session([...dayOf(k, 60), ['close']], { step: 90, ago: k * 86_400, first: k * 1000 }));

test('the season is the program\u2019s, sentence by sentence and cell by cell, the word about cause too', async () => {
    const { context, page, faults } = await openScreen(browser, server.url, 'season', { lines: LINES });
    await page.waitForSelector('.sentences li');
    const said = JSON.parse(execFileSync(program, ['season', '-', '--json'], { input: LINES.join('\n'), maxBuffer: 1 << 26 }));
    await until(page, (n) => document.querySelectorAll('.sentences li').length === n, said.sentences.length);
    assert.deepEqual(await page.locator('.sentences li').allInnerTexts(), said.sentences);
    assert.ok(said.tables.some(({ rows }) => rows.length > 1));
    for (const { title, rows } of said.tables.filter(({ rows }) => rows.length > 0)) {
        const shown = await page
            .locator(`[aria-label="${title}"] tbody tr`)
            .evaluateAll((all) => all.map((row) => [...row.children].map((cell) => cell.textContent)));
        assert.deepEqual(shown, rows, title);
    }
    assert.deepEqual(await page.locator('.remarks li').allTextContents(), said.notes.map(({ text }) => text));
    assert.ok(said.notes.some(({ code }) => code === 'confounded'));
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

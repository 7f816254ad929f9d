// Rehearse: the same screen on simulated water, played through as somebody new to it would; what it shows is the core's; the same
// day and choices are the same fish; truth and costs at the end; a file; from a real session; and nothing of it in the record.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { askCore, kept, session } from './bank.mjs';
import { dayAt } from './bed.mjs';
import { browser, program, server, until, useBrowser } from './common.mjs';
import { SIZES, button, misplaced, smallControls, standsWellInAll } from './log.mjs';
import { overhang } from './looks.mjs';
import { draft, meta, openDetails } from './plan.mjs';
import { FEED, RIG_IN, act, begin, end, fish, idle, openBegin, played } from './rehearse.mjs';

useBrowser();

const file = (page) => draft(page, 'rehearsal');
/** The core's answer to what the page has kept. */
const coreOf = async (page, more = {}) => {
    const { rehearsal, name, ...request } = await file(page);
    return askCore([], 'rehearse', { ...request, ...more });
};
const inWords = (text) => text.replace(/(\d)-(\d)/g, '$1\u2013$2').replace(/(^|[ (])-(\d)/g, '$1\u2212$2');
const counts = (page) => page.$$eval('.sim .outcomes .c', (all) => all.map((one) => Number(one.textContent)));
const clock = (page) => page.locator('.sim .clock b').innerText();
const databases = (page) =>
    page.evaluate(async () => ({
        events: await new Promise((resolve) => {
            indexedDB.open('baitfall').onsuccess = ({ target }) => {
                const database = target.result;
                database.transaction('events').objectStore('events').count().onsuccess = (event) => {
                    database.close();
                    resolve(event.target.result);
                };
            };
        }),
    }));

test('a day played through: begin, feed, fish, wait, take back, end; all of it the core’s, plainly simulated, none of it in the record', async () => {
    const { context, page, faults } = await openBegin(browser, server.url);
    await page.getByText(/nothing of it goes into your log/).waitFor();
    await begin(page);
    assert.match(await clock(page), /^09:00\s+Simulated$/i);
    assert.equal(await page.title(), 'Rehearse - Baitfall');
    await act(page, FEED);
    assert.deepEqual((await file(page)).choices, [{ t_s: 0, kind: 'feed', body: { spot: 'long', bait: 'hard-4', count: 15, how: 'clump' } }]); // as its plan has it
    await act(page, /^half/); // as after FEED on the Bank
    assert.equal((await file(page)).choices[0].body.count, 8);
    assert.equal(await page.locator('.feedrow button span').first().innerText(), '8 pieces');
    await act(page, RIG_IN);
    assert.equal(await button(page, RIG_IN).getAttribute('aria-pressed'), 'true');
    await act(page, 'Next bite');
    let answer = await coreOf(page);
    const newest = answer.events.at(-1);
    assert.equal(newest.kind, 'lift'); // a bite stops the time
    const words = await page.getByRole('status').innerText();
    assert.ok(words.startsWith(`${newest.at_text.slice(0, 5)} ${newest.word}`), words);
    assert.ok((await clock(page)).startsWith(answer.now_text));
    await act(page, '5 min');
    answer = await coreOf(page);
    const { landed, missed, lost, touch, foul } = answer.counts;
    const nothing = answer.events.filter(({ outcome }) => outcome === 'nothing').length;
    assert.deepEqual(await counts(page), [landed, missed, lost, touch, foul, nothing]);
    const bank = await askCore(answer.lines.map((line) => JSON.parse(line)), 'bank', { session: answer.session, now: answer.now });
    assert.equal((await page.locator('.glance .n').first().innerText()).replace(/\s/g, ''), bank.fed.text.replace(' ', ''));

    // Taken back, the time goes back with it.
    const before = (await file(page)).choices;
    const { kind, for_s } = before.at(-1);
    assert.deepEqual([kind, for_s], ['wait', 300]); // the rig was out: no bite came
    assert.ok((await page.locator('.undo').innerText()).startsWith('Waited 5 min'));
    await played(page, page.locator('.undo'));
    const after = await file(page);
    assert.deepEqual(after.choices, before.slice(0, -1));
    assert.equal(after.until_s, before.at(-1).t_s);

    await act(page, RIG_IN);
    await act(page, /^Lift out/);
    assert.equal((await file(page)).choices.at(-1).kind, 'lift');
    await button(page, /^Spot/).click();
    await button(page, /^Feed hard 4 mm/).click();
    await act(page, FEED);
    assert.deepEqual([(await file(page)).choices.at(-1).body.spot, (await file(page)).choices.at(-1).body.bait], [answer.spots[1], answer.baits[1]]);

    await end(page);
    await page.getByText(/^Simulated: no fish were there/).waitFor();
    assert.deepEqual(await databases(page), { events: 0 });
    assert.equal((await kept(page)).length, 0);
    await page.getByRole('link', { name: 'Home' }).click();
    await page.getByRole('link', { name: /^Look back/ }).click();
    await page.getByText('No session yet.').waitFor();
    assert.deepEqual(faults, []);
    await context.close();
});

test('at the end each decision has its cost as the core prices it, and what was there is drawn and told in numbers', async () => {
    const { context, page, faults } = await openBegin(browser, server.url);
    await begin(page);
    await act(page, FEED);
    await fish(page, 3);
    await act(page, '5 min');
    await act(page, FEED);
    await fish(page, 1);
    await end(page);
    const core = await coreOf(page, { end: true });
    assert.ok(core.decisions.length >= 3);
    const rows = await page.$$eval('.decisions li', (all) => all.map((li) => [li.querySelector('b').innerText, li.querySelector('.r').innerText]));
    const capital = (text) => text.replace(/^./, (first) => first.toUpperCase());
    assert.deepEqual(
        rows,
        core.decisions.map(({ at_text, chosen, is_best, cost }) => [inWords(`${at_text} ${chosen}`), is_best ? 'The best of what was tried.' : capital(inWords(cost.text))]),
    );
    const nWorse = core.decisions.filter(({ is_best, cost }) => !is_best && cost.lo > 0).length;
    await page.getByText(`${core.decisions.length} decisions priced, ${nWorse} clearly worse than the best that was tried.`).waitFor();
    assert.ok(core.sentences.some((text) => text.startsWith(`${core.decisions.length} decisions priced, ${nWorse} `)), core.sentences.join(' ')); // as the core counts
    assert.equal(await page.locator('.decisions .dearest').count(), nWorse > 0 ? 1 : 0);
    assert.ok(await page.getByText(inWords(core.sentences[0])).isVisible());
    await openDetails(page);
    const table = await page.$$eval('.what-was tbody tr', (all) => all.map((row) => [...row.cells].map((cell) => cell.textContent)));
    const at = new Map(core.truth.series.map((moment) => [moment.at_text, moment]));
    assert.ok(table.length >= 3);
    for (const [time, near] of table) assert.equal(near, String(Math.round(at.get(time).near)));
    assert.equal(await page.locator('.what-was svg').count(), 2); // one spot was fished
    // From a decision on it can be played again.
    const { choice, t_s } = core.decisions.at(-1);
    await page.locator('.decisions li').last().getByRole('button').click();
    await idle(page);
    const again = await file(page);
    assert.deepEqual([again.choices.length, again.until_s], [choice, t_s]);
    assert.deepEqual(faults, []);
    await context.close();
});

test('it is one file: opened elsewhere it is the same day; closed half way it stands there again; a wrong file is told', async () => {
    const { context, page, faults } = await openBegin(browser, server.url);
    await begin(page);
    await act(page, FEED);
    await fish(page, 2);
    const before = [await counts(page), await clock(page)];
    await page.reload();
    await idle(page);
    assert.deepEqual([await counts(page), await clock(page)], before);
    await end(page);
    const [out] = await Promise.all([page.waitForEvent('download'), button(page, 'As a file').click()]);
    assert.match(out.suggestedFilename(), /^baitfall-[-0-9T]+\.rehearsal\.json$/);
    const text = await readFile(await out.path(), 'utf8');
    assert.equal(JSON.parse(text).rehearsal, 1);
    assert.deepEqual(JSON.parse(text), await file(page));
    const sameDay = JSON.parse(execFileSync(program, ['rehearse', await out.path(), '--json'], { input: '' }));
    const { landed, missed, lost, touch, foul } = sameDay.counts; // the program plays it too
    assert.deepEqual([landed, missed, lost, touch, foul], before[0].slice(0, 5));
    await context.close();

    const other = await openBegin(browser, server.url);
    const choose = (name, words) => other.page.setInputFiles('input[type=file]', { name, mimeType: 'application/json', buffer: Buffer.from(words) });
    await choose('plan.json', '{"schema":1}');
    await other.page.getByRole('alert').getByText('plan.json could not be opened: It is no rehearsal').waitFor();
    await choose('odd.json', JSON.stringify({ rehearsal: 1, choices: [{ t_s: 0, kind: 'feed', body: { bait: '<img src=x>', count: 3 } }] }));
    await other.page.getByRole('alert').getByText(/which is not one of the words known here/).waitFor();
    await choose('day.rehearsal.json', text);
    await idle(other.page);
    assert.deepEqual([await counts(other.page), await clock(other.page)], before);
    assert.deepEqual(await other.page.evaluate(() => document.querySelectorAll('img').length), 0);
    assert.deepEqual(faults, []);
    await other.context.close();
});

test('the same day and the same choices are the same fish; another day is another', async () => {
    const { context, page } = await openBegin(browser, server.url);
    const play = async () => {
        await act(page, FEED);
        await fish(page, 3);
        return [await clock(page), await counts(page)];
    };
    await begin(page);
    const first = await play();
    await end(page);
    await button(page, 'The same day again').click();
    await idle(page);
    assert.deepEqual(await play(), first);
    await end(page);
    await button(page, 'Another day').click();
    await idle(page);
    assert.equal((await file(page)).seed, 2);
    assert.notDeepEqual(await play(), first);
    await context.close();
});

test('from a real session on: its hours until then, your turn after, and the session stays as it was', async () => {
    const lines = session([...dayAt(['long'], 120), ['close']], { ago: 3600 });
    const { context, page, faults } = await openBegin(browser, server.url, { lines });
    await button(page, 'A real session').click();
    const at = await page.getByRole('group', { name: 'Your turn from' }).locator('.value').innerText();
    await begin(page);
    assert.ok((await clock(page)).startsWith(at), `${at}, ${await clock(page)}`);
    const { setup } = await file(page);
    assert.ok(setup.truth !== undefined, Object.keys(setup).join());
    // Its own digits go on: what was fed before stands there.
    assert.match(await page.locator('.glance .n').first().innerText(), /\d/);
    await act(page, FEED);
    await fish(page, 1);
    await end(page);
    await page.locator('.what-was svg').first().waitFor();
    assert.equal(await button(page, 'Another day').count(), 0); // the truth was drawn for this one
    assert.deepEqual((await kept(page)).map((event) => event.id).sort(), lines.map((line) => JSON.parse(line).id).sort());
    // The way there from looking back.
    await page.getByRole('link', { name: 'Home' }).click();
    await page.getByRole('link', { name: /^Look back/ }).click();
    await button(page, 'Your turn: rehearse it').click();
    assert.equal(await button(page, 'A real session').getAttribute('aria-pressed'), 'true');
    assert.deepEqual(faults, []);
    await context.close();
});

test('advice there is the Bank’s, about the rehearsal alone', async () => {
    const { context, page, faults } = await openBegin(browser, server.url);
    await begin(page);
    await act(page, FEED);
    await fish(page, 1);
    await button(page, 'Advice').click();
    await page.waitForSelector('.advised-panel[aria-busy="false"]');
    const answer = await coreOf(page);
    const { plan } = (await file(page)).setup;
    const core = await askCore(answer.lines.map((line) => JSON.parse(line)), 'next', { session: answer.session, now: answer.now, phone: true, plan });
    assert.equal(await page.locator('.advised-panel .advice').innerText(), `${inWords(core.action.text)}.`);
    await button(page, 'Close').click();
    assert.equal(await meta(page, 'next'), undefined); // the Bank’s own is another
    assert.deepEqual(faults, []);
    await context.close();
});

test('with a session open the Bank comes first: simulated water never stands over real', async () => {
    const { context, page } = await openBegin(browser, server.url);
    await begin(page);
    await page.evaluate(() => (location.hash = 'start'));
    await page.getByLabel('Water', { exact: true }).fill('Withy Pool');
    await button(page, 'Start').click();
    await page.waitForSelector('.bank .outcomes');
    await page.evaluate(() => (location.hash = 'rehearse'));
    await until(page, () => location.hash === '#bank');
    assert.equal(await page.locator('.sim').count(), 0);
    await context.close();
});

test('23. a rehearsal in three looks at each size: axe finds nothing, nothing is too wide, too small, cut or over another; the water in one screen', async () => {
    const lines = session([...dayAt(['long'], 60), ['close']], { ago: 3600 });
    const { context, page, faults } = await openBegin(browser, server.url, { lines });
    await button(page, 'A real session').click();
    await standsWellInAll(page, SIZES, { name: 'begin' });
    await button(page, 'An invented peg').click();
    await begin(page);
    await act(page, FEED);
    const inOne = async (at) =>
        assert.deepEqual(
            await page.$$eval('.sim > *:not(.hide)', (all) =>
                all.map((one) => one.getBoundingClientRect()).filter(({ top, bottom }) => top < 0 || bottom > innerHeight + 1).map(({ top, bottom }) => [top, bottom]),
            ),
            [],
            at,
        );
    await standsWellInAll(page, SIZES, { name: 'fed', turn: 1, also: inOne });
    await fish(page, 2);
    await standsWellInAll(page, SIZES, { name: 'bite', turn: 2, also: inOne });
    const [feed, rig] = await page.$$eval('.sim .feedrow button', (all) => all.map((one) => one.getBoundingClientRect().height));
    assert.ok(feed >= 72 && rig >= 72);
    await end(page);
    await openDetails(page);
    await standsWellInAll(page, SIZES, { name: 'end', hasTables: true });
    assert.deepEqual(faults, []);
    await context.close();
});

test('21. a rehearsal with text twice as large: nothing cut, nothing over another', async () => {
    const { context, page } = await openBegin(browser, server.url, { width: 320, height: 640, scripts: [`location.protocol === 'http:' && (localStorage['baitfall.look'] = 'sun')`] });
    await begin(page);
    await act(page, FEED);
    await fish(page, 1);
    await (await context.newCDPSession(page)).send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
    await page.reload();
    await idle(page);
    assert.ok((await overhang(page)) <= 0);
    assert.deepEqual(await misplaced(page), []);
    assert.deepEqual(await smallControls(page), []);
    await context.close();
});

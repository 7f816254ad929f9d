// What to do next: the core's own advice, there when it is worked out and never in the way; words of the book until odds are
// earned; what was done is an entry like any other, the put-in as advised, and is taken back like any other.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { askCore, control, count, counted, kept, keptN, openPage, openSeeded, press, pressUndo, seed, session, stopClock, ticking } from './bank.mjs';
import { dayAt, holding } from './bed.mjs';
import { browser, server, until, useBrowser } from './common.mjs';
import { SIZES, button, misplaced, standsWellInAll } from './log.mjs';
import { overhang } from './looks.mjs';
import { COUNTING, advisedBank, asked, toNext } from './next.mjs';
import { meta, openDetails } from './plan.mjs';

useBrowser();

const DAY_S = 86_400;
const HOUR = dayAt(['long', 'short'], 75);
/** An earlier session of 20 lifts, so many days ago: odds are earned from the fifth on. */
const LIFTS = [['feed', { spot: 'long', bait: 'hard-4', count: 40, how: 'clump' }], ...Array.from({ length: 20 }, () => ['lift', { outcome: 'nothing' }])];
const earlier = (daysAgo) => session(LIFTS, { first: 1000 * daysAgo, ago: daysAgo * DAY_S });
const POT = { spot: 'long', bait: 'hard-4', fill_frac: 1, pot_m3: 1.2e-5, how: 'clump' };
const FED = [['feed', POT], ['lower', { spot: 'long', hook_bait: 'hard-6' }]];
const HALF = { what: 'feed', bait: 'hard-4', count: 31, how: 'clump', times: 0.5, short: 'Feed 31 now', text: 'Feed now: 31 hard-4, tipped' };
const LATER = { ...HALF, what: 'wait', wait_s: 240, short: 'Hold till 11:46', text: 'Hold off until 11:46, then 31 hard 4 mm pellets, tipped' };

const line = (page) => page.locator('.next-line span').first().innerText();
const feedWords = (page) => control(page, 'feed').locator('span').innerText();
const advised = (page) => page.locator('.next .advice').first().innerText();
const inWords = (text) => text.replace(/(\d)-(\d)/g, '$1\u2013$2');

test('nothing waits for advice: every button logs before it is back, the line and the screen say that it is being worked out', async () => {
    const { letGo, onContext } = holding();
    const { context, page, faults } = await openSeeded(browser, server.url, HOUR, { onContext });
    assert.equal(await line(page), 'Next: working');
    const fish = await count(page, 'fish');
    await press(page, 'fish');
    await counted(page, 'fish', fish + 1);
    await press(page, 'feed');
    await press(page, 'rig');
    await keptN(page, HOUR.length + 4);
    await page.locator('.next-line').click();
    await page.getByText('Not looked yet, working.').waitFor();
    assert.equal(await page.locator('.followed, .grounds, .reasons').count(), 0); // nothing is made up for it
    await button(page, /^FEED/).click();
    await keptN(page, HOUR.length + 5);
    letGo();
    await page.getByText(/^Last looked \d\d:\d\d\./).waitFor();
    assert.notEqual(await advised(page), '');
    assert.deepEqual(faults, []);
    await context.close();
});

test('it is the advice of the core, asked about the same entries at the same instant; reasons stand behind a press', async () => {
    const { context, page, faults } = await openSeeded(browser, server.url, HOUR, { scripts: [COUNTING] });
    await page.locator('.next-line .at').waitFor({ state: 'attached' });
    const { answer } = await meta(page, 'next');
    const [request] = await asked(page);
    assert.equal(request.phone, true);
    assert.equal(request.given, null);
    assert.deepEqual(answer, await askCore(await kept(page), 'next', request));
    assert.equal(answer.grounds, 'book');
    const words = { feed: 'Feed', wait: 'Hold', move: 'Move' };
    const isTwo = answer.either && answer.either.what !== answer.action.what;
    assert.equal(await line(page), isTwo ? `${words[answer.action.what]} or ${words[answer.either.what].toLowerCase()}` : answer.action.short);
    await toNext(page);
    const second = (await meta(page, 'next')).answer;
    assert.equal(await advised(page), `${inWords(second.action.text)}.`);
    assert.equal(await page.getByText('Either, your call:').count(), second.either ? 1 : 0);
    assert.equal(await page.locator('.reasons section').first().isVisible(), false);
    await page.locator('summary').click();
    const listed = (name) => page.getByRole('region', { name, exact: true }).locator('li').allInnerTexts();
    const because = await listed('Because');
    assert.equal(because.length, 2);
    second.reasons.forEach(({ text, grounds }, i) => {
        assert.ok(because[i].startsWith(inWords(text)), because[i]);
        assert.equal(because[i].slice(text.length).trim().startsWith('book'), grounds === 'book');
    });
    assert.deepEqual(await listed('Why not'), second.others.map(({ text, behind }) => inWords(`${text}: ${behind.text}`)));
    assert.equal((await listed('Would change it')).length, second.changes_if.length);
    for (const { text } of second.notes) assert.equal(await page.getByText(text, { exact: true }).count(), 1);
    await page.getByRole('button', { name: /behind it, in the log/ }).first().click();
    await page.waitForSelector('.log');
    assert.deepEqual(faults, []);
    await context.close();
});

test('what was said last goes with the next question, as it was first said; a look comes after each entry and once a minute', async () => {
    const { context, page } = await openSeeded(browser, server.url, HOUR, { scripts: [COUNTING], hasClock: true });
    await stopClock(page);
    const settled = () => ticking(page, page.locator('.next-line .at').waitFor({ state: 'attached' }), 20);
    await settled();
    const n = async (wanted) => {
        for (const end = Date.now() + 60_000; (await asked(page)).length < wanted && Date.now() < end; ) await page.clock.runFor(20);
        return assert.equal((await asked(page)).length, wanted);
    };
    const known = async (of) => {
        for (let last; (last = await meta(page, 'next')) === undefined || Date.parse(last.answer.at) < Date.parse(of.now); ) await page.clock.runFor(20);
        return meta(page, 'next');
    };
    await n(1);
    const first = await known((await asked(page))[0]);
    await page.clock.runFor(61_000);
    await n(2);
    const second = (await asked(page))[1];
    assert.deepEqual(second.given, first.answer.action);
    const after = await known(second);
    const { what, spot, bait, count: pieces } = after.answer.action;
    const isSame = JSON.stringify([what, spot, bait, pieces]) === JSON.stringify(['what', 'spot', 'bait', 'count'].map((key) => first.answer.action[key]));
    if (isSame && what !== 'wait') assert.equal(after.given.at, first.answer.action.at); // how long it stands counts from then
    await control(page, 'missed').click();
    await n(3);
    await known((await asked(page))[2]);
    await page.evaluate(() => {
        Object.defineProperty(document, 'hidden', { get: () => true, configurable: true });
    });
    await page.clock.runFor(200_000);
    await page.waitForTimeout(200);
    await n(3);
    await context.close();
});

test('until five sessions of twenty lifts it is the book in words; then odds in counts of ten, and how often they came true', async () => {
    const { context, page, faults } = await openPage(browser);
    await page.goto(server.url);
    await page.waitForSelector('.jobs');
    const opened = async (lines) => {
        await seed(page, lines);
        await page.goto('about:blank');
        await page.goto(`${server.url}#next`);
        await page.waitForSelector('.grounds');
        await page.waitForSelector('.next[aria-busy="false"]');
        await openDetails(page);
        const { answer } = await meta(page, 'next');
        const text = await page.locator('.next').innerText();
        assert.ok(text.includes(answer.grounds_text));
        return { answer, text };
    };
    const book = await opened([...[1, 2, 3, 4].flatMap(earlier), ...session(dayAt(['long'], 40))]);
    assert.equal(book.answer.grounds, 'book');
    assert.equal(await page.locator('.odds').count(), 0);
    assert.doesNotMatch(book.text, / in 10|odds of|%/);
    await page.getByText('From the book, not from your log').waitFor();

    const { answer, text } = await opened(earlier(5));
    assert.equal(answer.grounds, 'own');
    const dots = page.locator('.odds').first();
    const n = Math.round(10 * answer.odds.p);
    assert.equal(await dots.locator('.so').count(), Math.min(n, 9));
    assert.equal(await dots.locator('circle').count(), 10);
    assert.equal(await dots.getAttribute('aria-label'), n < 1 ? 'under 1 in 10' : n > 9 ? 'over 9 in 10' : `${n} in 10`);
    assert.ok(text.includes(inWords(answer.odds.text)));
    assert.ok(answer.odds.text.includes(await dots.getAttribute('aria-label')));
    assert.equal(await page.locator('.odds').count(), answer.p_best === null ? 1 : 2);
    assert.deepEqual(faults, []);
    await context.close();
});

test('Did it logs that very feed, counted as it was counted before, and the advice with its odds; one press takes both back', async () => {
    const odds = { p: 0.62, text: 'A fish by then: 6 in 10.' };
    const { context, page, faults } = await advisedBank(FED, { action: HALF, grounds: 'own', odds });
    assert.equal(await line(page), 'Feed 31 now');
    assert.equal(await feedWords(page), 'half pot'); // FEED is set to it
    await toNext(page);
    assert.equal(await button(page, /^Did it/).innerText(), 'Did it: half pot');
    await button(page, /^Did it/).click();
    let events = await keptN(page, FED.length + 3);
    const [advice, feed] = events.slice(-2);
    assert.deepEqual([advice.kind, feed.kind], ['advice', 'feed']);
    const { look_s, ...said } = advice.body;
    assert.deepEqual(said, { spot: 'long', bait: 'hard-4', count: 31, how: 'clump', what: 'feed', done: 'did', odds_frac: 0.62 });
    assert.ok(look_s > 500 && look_s <= 600, `${look_s} s`);
    assert.deepEqual(feed.body, { ...POT, fill_frac: 0.5 });
    await page.getByRole('status').getByText(/^Feed logged as advised \d\d:\d\d/).waitFor();

    await page.getByRole('link', { name: 'Bank' }).click();
    await page.locator('.undo').getByText('Feed').waitFor();
    await pressUndo(page, 'undo');
    events = await keptN(page, FED.length + 5);
    assert.deepEqual(events.slice(-2).map(({ kind, of }) => [kind, of]), [['cross', feed.id], ['cross', advice.id]]);
    await page.locator('.undo').getByText('Crossed out').first().waitFor();
    await pressUndo(page, 'back');
    events = await keptN(page, FED.length + 7);
    assert.deepEqual(events.slice(-2).map(({ kind, of }) => [kind, of]), [['restore', feed.id], ['restore', advice.id]]);
    assert.deepEqual(faults, []);
    await context.close();
});

test('FEED is set to what is advised, logs it, and then is as it was until there is newer advice', async () => {
    const { context, page, faults } = await advisedBank(FED, { action: LATER });
    assert.equal(await line(page), 'Hold till 11:46');
    assert.equal(await feedWords(page), 'half pot');
    await press(page, 'feed');
    const events = await keptN(page, FED.length + 2);
    assert.deepEqual(events.at(-1).body, { ...POT, fill_frac: 0.5 });
    await context.close();
    // Of another way than the last put-in it is counted in pieces.
    const hand = { ...HALF, how: 'hand', bait: 'soft-4', times: 1, count: 12 };
    const other = await advisedBank(FED, { action: hand });
    await press(other.page, 'feed');
    assert.deepEqual((await keptN(other.page, FED.length + 2)).at(-1).body, { spot: 'long', bait: 'soft-4', count: 12, how: 'hand' });
    assert.deepEqual(faults, []);
    await other.context.close();
});

test('Did it of holding off is an entry without a put-in; a wait that was followed counts for the odds', async () => {
    const odds = { p: 0.4, text: 'A fish by then: 4 in 10.' };
    const { context, page } = await advisedBank(FED, { action: LATER, grounds: 'own', odds });
    await toNext(page);
    await button(page, 'Did it').click();
    const events = await keptN(page, FED.length + 2);
    const { kind, body, at } = events.at(-1);
    assert.equal(kind, 'advice');
    assert.equal(body.what, 'wait');
    assert.equal(body.done, 'did');
    // A fish after it: the core counts one piece of advice followed, and that it came true.
    const later = (s) => new Date(Date.parse(at) + 1000 * s).toISOString();
    const fish = { ...events.at(-2), id: 'f'.repeat(32), seq: 9999, kind: 'lift', at: later(60), rec: later(60), body: { outcome: 'landed' } };
    const own = [1, 2, 3, 4, 5].flatMap(earlier).map((one) => JSON.parse(one));
    const told = await askCore([...own, ...events, fish], 'next', { session: events[0].id, now: later(700), phone: true, sets: 4, particles: 64 });
    assert.deepEqual([told.odds.n, told.odds.said, told.odds.came], [1, 0.4, 1]);
    await context.close();
});

test('Did other logs what was done, and that it was not the advice; nothing is said about it', async () => {
    const { context, page, faults } = await advisedBank([...FED, ['feed', { ...POT, spot: 'short' }], ['feed', POT]], { action: LATER });
    const before = (await kept(page)).length;
    await toNext(page);
    await button(page, 'Did other').click();
    const names = await page.getByRole('group', { name: 'What you did instead' }).getByRole('button').allInnerTexts();
    assert.deepEqual(names, ['Fed: half pot', 'Fed: full pot', 'Fed: two pots', 'Held off', 'Moved to short', 'Another feed, in the Log']);
    await button(page, 'Fed: two pots').click();
    let events = await keptN(page, before + 2);
    assert.deepEqual(events.slice(-2).map(({ kind }) => kind), ['advice', 'feed']);
    assert.equal(events.at(-2).body.done, 'other');
    assert.equal(events.at(-1).body.fill_frac, 2);
    await button(page, 'Did other').click();
    await button(page, 'Held off').click();
    events = await keptN(page, before + 3);
    assert.deepEqual([events.at(-1).kind, events.at(-1).body.done], ['advice', 'other']);
    // After a move the rig goes in there: the next RIG IN says so.
    await button(page, 'Did other').click();
    await button(page, 'Moved to short').click();
    await keptN(page, before + 4);
    await page.getByRole('link', { name: 'Bank' }).click();
    await press(page, 'rig');
    events = await keptN(page, before + 5);
    assert.deepEqual(events.at(-1).body, { spot: 'short' });
    await press(page, 'rig');
    assert.deepEqual((await keptN(page, before + 6)).at(-1).body, {});
    assert.deepEqual(faults, []);
    await context.close();
});

test('when newer advice says more than the older, what is pressed stays in its place', async () => {
    const older = { action: HALF };
    const { context, page, faults } = await advisedBank(FED, [older, older, { action: LATER, either: HALF, kept: true }]);
    await toNext(page);
    const places = () => page.$$eval('.followed button', (all) => all.map((one) => one.getBoundingClientRect().top + scrollY));
    const before = await places();
    await button(page, /^RIG IN/).click(); // looked at again
    await page.getByText('Either, your call:').waitFor();
    assert.equal(before.length, 2);
    assert.deepEqual(await places(), before);
    assert.deepEqual(faults, []);
    await context.close();
});

test('advice to move: the put-in is logged there, and RIG IN takes the spot and the bait along, also after a reload', async () => {
    const move = { ...HALF, what: 'move', spot: 'short', hook_bait: 'soft-6', times: 1, short: 'Move to short', text: 'Move to short and feed 31 hard-4, tipped' };
    const { context, page, faults } = await advisedBank(FED, { action: move });
    assert.equal(await feedWords(page), 'full pot'); // FEED is of this spot
    await toNext(page);
    await button(page, /^Did it/).click();
    const [advice, feed] = (await keptN(page, FED.length + 3)).slice(-2);
    assert.deepEqual([advice.body.what, advice.body.spot], ['move', 'short']);
    assert.deepEqual(feed.body, { spot: 'short', bait: 'hard-4', count: 31, how: 'clump' });
    await page.reload();
    await page.getByRole('link', { name: 'Bank' }).click();
    await control(page, 'rig').getByText('at short').waitFor();
    await press(page, 'rig');
    assert.deepEqual((await keptN(page, FED.length + 4)).at(-1).body, { spot: 'short', hook_bait: 'soft-6' });
    assert.deepEqual(faults, []);
    await context.close();
});

test('what it is for is chosen once and kept, also for the sessions to come', async () => {
    const { context, page } = await openSeeded(browser, server.url, HOUR, { scripts: [COUNTING] });
    await page.locator('.next-line .at').waitFor({ state: 'attached' });
    assert.equal((await asked(page))[0].objective, 'weight');
    await toNext(page);
    await button(page, 'Number').click();
    await until(page, () => self.asked.at(-1).objective === 'number');
    await button(page, 'Target').click();
    await button(page, 'Target more').click();
    await until(page, () => self.asked.at(-1).target_kg > 20);
    await page.reload();
    await until(page, () => self.asked.at(-1)?.objective === 'target' && self.asked.at(-1).target_kg > 20);
    assert.equal(await button(page, 'Target').getAttribute('aria-pressed'), 'true');
    await context.close();
});

test('with nothing fed and no plan it says why there is none', async () => {
    const { context, page, faults } = await openSeeded(browser, server.url, [['lower', { spot: 'long' }]]);
    await page.locator('.next-line').getByText('No advice yet').waitFor();
    await toNext(page);
    assert.equal(await advised(page), 'No advice yet: nothing was fed in this session.');
    assert.equal(await page.locator('.followed, .grounds').count(), 0);
    assert.deepEqual(faults, []);
    await context.close();
});

const OWN = {
    action: LATER,
    either: HALF,
    kept: true,
    grounds: 'own',
    hour: { mid: 6.3, lo: 2.9, hi: 9.6, text: '6.3 kg (2.9-9.6) in the next 60 min' },
    gain: { mid: 0.4, lo: -0.1, hi: 0.9, text: '0.4 kg (-0.1 to 0.9) more than going on by the simple rule: perhaps a little better' },
    p_best: 0.71,
    odds: { p: 0.63, text: 'A fish by 11:46: 6 in 10. Such odds so far: 7.4 said, 8 came true, of 13.' },
    grounds_text: '7 earlier sessions of yours with 20 lifts or more stand behind it.',
    reasons: [
        { text: 'Pieces left there: 30-60 of what went in up to 11:38: the more, the better for holding off.', grounds: 'today', events: ['a'] },
        { text: 'Fish on the bait: 0-3 (3 drops: 1 fish, 2 missed since 11:38).', grounds: 'book', events: ['a', 'b', 'c'] },
    ],
    others: [{ ...HALF, text: 'Move to the other side of the weed bed and feed 120 soft two, by catapult', behind: { text: 'perhaps a little worse, by 0.3 kg (-0.2 to 0.9)' }, p_more: 0.38 }],
    changes_if: [{ text: 'more than 14 fish about, likely in 3 in 10: Feed now: 110 soft two, tipped' }],
};
test('23. advice in three looks at each size, all open: axe finds nothing, nothing is too wide, too small, cut or over another', async () => {
    const { context, page, faults } = await advisedBank([...FED, ['feed', { ...POT, spot: 'short' }], ['feed', POT]], OWN);
    for (const [width, height] of [[360, 700], ...SIZES]) {
        await page.setViewportSize({ width, height });
        assert.ok((await overhang(page)) <= 0);
        const [line, at] = await Promise.all(['.next-line span', '.next-line .at'].map((one) => page.locator(one).first().boundingBox()));
        const box = await page.locator('.next-line').boundingBox();
        assert.ok(line.x + line.width <= box.x + box.width - 6 && box.height >= 44, `${width}: the line fits`);
        if (at) assert.ok(line.x + line.width <= at.x && at.x + at.width <= box.x + box.width, `${width}: beside each other`);
    }
    await toNext(page);
    await button(page, 'Target').click();
    await button(page, 'Did other').click();
    await openDetails(page);
    await standsWellInAll(page, SIZES);
    assert.deepEqual(faults, []);
    await context.close();
});

test('21. advice with text twice as large, and with the spacing of WCAG 1.4.12: nothing cut, nothing over another', async () => {
    const sun = `location.protocol === 'http:' && (localStorage['baitfall.look'] = 'sun')`;
    const { context, page } = await advisedBank(FED, OWN, { scripts: [sun] });
    await (await context.newCDPSession(page)).send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
    await page.reload();
    await page.locator('.next-line .at').waitFor({ state: 'attached' });
    assert.ok((await overhang(page)) <= 0);
    await toNext(page);
    await button(page, 'Did other').click();
    await openDetails(page);
    assert.ok((await overhang(page)) <= 0);
    assert.deepEqual(await misplaced(page), []);
    await (await context.newCDPSession(page)).send('Page.setFontSizes', { fontSizes: { standard: 16, fixed: 13 } });
    await page.reload();
    await page.waitForSelector('.next[aria-busy="false"]');
    await page.evaluate(() => {
        const sheet = new CSSStyleSheet();
        sheet.replaceSync('* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-bottom: 2em !important }');
        document.adoptedStyleSheets = [sheet];
    });
    await openDetails(page);
    assert.ok((await overhang(page)) <= 0);
    assert.deepEqual(await misplaced(page), []);
    await context.close();
});

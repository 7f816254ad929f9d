// What the tests of advice share: a worker that answers with advice made up for a test, a page that counts what it asks.
import { openSeeded } from './bank.mjs';
import { browser, server } from './common.mjs';

/** Keeps the questions that a page puts to the belief's worker, the advice among them. */
export const COUNTING = `{
    const post = Worker.prototype.postMessage;
    self.asked = [];
    Worker.prototype.postMessage = function (message, ...others) {
        if (message.question === 'next') self.asked.push(message.request);
        return post.call(this, message, ...others);
    };
}`;
export const asked = (page) => page.evaluate(() => self.asked);

/** Advice in place of the core's, for what the page makes of it. Runs in the worker; the next of `all`, and then always the last, is
 * merged into the answer. */
const STAND_IN = (all) => `
    const all = ${JSON.stringify(all)};
    self.onmessage = ({ data: { id, question, request } }) => {
        if (!question) return self.postMessage({ id, taken: { new: 0, known: 0, clash: 0 }, refused: [], fresh: [] });
        const at = request.now;
        const later = (s) => new Date(Date.parse(at) + 1000 * s).toISOString();
        const whole = (act) => act && { spot: 'long', hook_bait: 'hard-6', bait: null, count: null, wait_s: 0, times: null, text: 'Feed now',
            short: 'Feed 20 now', at, look_again_s: 600, look_again: later(600), ...act };
        const made = all.length > 1 ? all.shift() : all[0];
        const answer = { session: { id: request.session }, at, spot: 'long', what: 'Made up.', notes: [{ code: 'made', text: 'Made up.' }],
            either: null, kept: false, hour: { mid: null, lo: null, hi: null, text: '' }, gain: { mid: null, lo: null, hi: null, text: 'about even' },
            p_best: null, odds: null, grounds: 'book', sessions: 0, grounds_text: 'Made up.', reasons: [], others: [], changes_if: [],
            ...made, action: whole(made.action), either: whole(made.either) ?? null };
        self.postMessage({ id, from_s: 0, answer: JSON.stringify(answer) });
    };`;
export const standIn = (context, all) =>
    context.route(/\?belief$/, (route) =>
        route.fulfill({ contentType: 'text/javascript', body: STAND_IN(all) }),
    );

/** The Bank of a session with such advice. @param made  one, or several after each other */
export async function advisedBank(entries, made, options = {}) {
    const held = await openSeeded(browser, server.url, entries, { ...options, onContext: (context) => standIn(context, [made].flat()) });
    await held.page.locator('.next-line .at').waitFor({ state: 'attached' });
    return held;
}
export const toNext = async (page) => {
    await page.locator('.next-line').click();
    await page.waitForSelector('.next[aria-busy="false"]');
};

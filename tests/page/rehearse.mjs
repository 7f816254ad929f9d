// What the tests of a rehearsal share: the way there, presses that wait until they were played.
import { openPage, seed } from './bank.mjs';
import { eventually } from './common.mjs';
import { button } from './log.mjs';

export const idle = (page) => page.waitForSelector('.sim[aria-busy="false"]');

/** The screen where a rehearsal begins. */
export async function openBegin(browser, url, { lines = [], ...options } = {}) {
    const opened = await openPage(browser, { width: 360, height: 700, ...options });
    const { page } = opened;
    await page.goto(`${url}#${lines.length > 0 ? 'log' : 'rehearse'}`);
    await page.waitForSelector('main');
    if (lines.length > 0) {
        await seed(page, lines);
        await page.evaluate(() => history.replaceState({}, '', '#rehearse'));
        await page.reload();
    }
    await page.waitForSelector('.begin');
    return opened;
}
export async function begin(page) {
    await button(page, 'Begin').click();
    await idle(page);
}
const nPlayed = (page) => page.locator('.sim').getAttribute('data-played').then(Number);
/** One press on the water that chooses something or lets time go on, played. */
export async function played(page, control) {
    const n = await nPlayed(page);
    await control.click();
    await eventually(async () => (await nPlayed(page)) > n);
    await idle(page);
}
export const act = (page, name) => played(page, button(page, name));
export const FEED = /^FEED/;
export const RIG_IN = /^RIG IN/;

/** Goes on until something was landed, missed or lost so many times more, or the day is over. */
export async function fish(page, nBites) {
    for (let i = 0; i < nBites; i++) {
        await act(page, RIG_IN);
        await act(page, 'Next bite');
    }
}
export const priced = (page) => page.waitForSelector('[aria-label="Your decisions"][aria-busy="false"]');
export const end = async (page) => {
    await button(page, 'End').click();
    await priced(page);
};

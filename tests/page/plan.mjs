// What the tests of the plan, its card and the peg share: opened screens, counted inputs, the core's own answers.
import assert from 'node:assert/strict';
import { openPage } from './bank.mjs';
import { coreWith } from './common.mjs';

/** What answers a command in the page, asked beside it. */
export async function loadCore() {
    const core = await coreWith('answer');
    return (command, request) => {
        let at = core.in_at();
        const lengths = [command, JSON.stringify(request)].map((text) => {
            const bytes = new TextEncoder().encode(text);
            new Uint8Array(core.memory.buffer).set(bytes, at);
            at += bytes.length;
            return bytes.length;
        });
        core.answer(...lengths);
        return JSON.parse(new TextDecoder().decode(new Uint8Array(core.memory.buffer, core.out_at(), core.out_n())));
    };
}

/** Waits until everything that is shown belongs to what is chosen, ranges and all. */
export const whole = (page) => page.waitForSelector('.answer[aria-busy="false"] .read');

/** Opens a screen of the page in a context of its own. @param plan  kept as the plan that is being made */
export async function openAt(browser, url, route, { plan, look, depth, ...options } = {}) {
    const opened = await openPage(browser, { width: 360, height: 700, ...options });
    const { page } = opened;
    const kept = { ...(look && { 'baitfall.look': look }), ...(depth && { 'baitfall.plan': depth }) };
    await page.addInitScript((items) => {
        if (location.protocol === 'http:') for (const [key, text] of Object.entries(items)) localStorage[key] ??= text;
    }, kept);
    if (plan) {
        await page.goto(`${url}#log`); // nothing is worked out there
        await page.waitForSelector('main');
        await keepDraft(page, 'plan', plan);
    }
    await page.goto(`${url}#${route}`);
    await page.waitForSelector('main');
    return opened;
}

const inStore = (page, store, act) =>
    page.evaluate(
        ([name, [method, ...given]]) =>
            new Promise((resolve, reject) => {
                const opening = indexedDB.open('baitfall');
                opening.onerror = () => reject(opening.error);
                opening.onsuccess = () => {
                    const database = opening.result;
                    const asked = database.transaction(name, 'readwrite').objectStore(name)[method](...given);
                    asked.onsuccess = () => {
                        database.close();
                        resolve(asked.result);
                    };
                };
            }),
        [store, act],
    );
export const keepDraft = (page, key, value) => inStore(page, 'drafts', ['put', value, key]);
export const draft = (page, key) => inStore(page, 'drafts', ['get', key]);
export const meta = (page, key) => inStore(page, 'meta', ['get', key]);
export const setMeta = (page, key, value) => inStore(page, 'meta', ['put', value, key]);

/** Fingers that count: a press, or a hold until the field shows what is wanted, is one input. Pressed by key: a mouse is down as
 * long as the machine is slow, and a step's button that is held runs on. */
export function countedInputs(page) {
    const inputs = {
        n: 0,
        async press(control) {
            inputs.n++;
            await control.press('Enter');
        },
        async hold(name, wanted) {
            inputs.n++;
            const control = page.getByRole('button', { name, exact: true });
            const isOver = await control.evaluateHandle((pressed, text) => {
                const shown = pressed.closest('.field').querySelector('.value');
                const hold = { isOver: false };
                new MutationObserver((_, watch) => {
                    if (!shown.innerText.startsWith(text)) return;
                    watch.disconnect();
                    pressed.dispatchEvent(new PointerEvent('pointerup'));
                    hold.isOver = true;
                }).observe(shown, { childList: true, characterData: true, subtree: true });
                return hold;
            }, wanted);
            await control.hover();
            await page.mouse.down();
            await page.waitForFunction((one) => one.isOver, isOver);
            await page.mouse.up();
        },
    };
    return inputs;
}

export const value = async (page, name) =>
    (await page.getByRole('group', { name, exact: true }).locator('.value').innerText()).replaceAll('\u00a0', ' ');
/** Waits until a field shows a value. */
export const shows = (page, name, text) =>
    page.getByRole('group', { name, exact: true }).locator('.value').filter({ hasText: text }).waitFor();
export const openDetails = (page) =>
    page.evaluate(() => document.querySelectorAll('details').forEach((one) => (one.open = true)));
/** Every table and every line about a word open. */
export async function openAll(page) {
    await openDetails(page);
    await page.$$eval('.term[aria-expanded="false"]', (all) => all.forEach((one) => one.click()));
}

/** Few draws, where what is claimed does not hang on more. */
export const quick = (plan) => ({ ...plan, draws: 16 });

/** Pages of a PDF as Chromium prints them: how many, and how large, in mm. */
export async function printed(page) {
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    const boxes = [...pdf.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/g)];
    assert.equal(boxes.length, pdf.match(/\/Type\s*\/Page\b/g).length);
    return boxes.map(([, wide, high]) => [wide, high].map((pt) => Math.round((Number(pt) / 72) * 25.4)));
}

/** An invented plan with two spots and a kit of its own, the kind of file that the page reads and writes. */
export const WITHY = {
    schema: 1,
    name: 'Withy Pool (invented)',
    venue: { name: 'Withy Pool', rules: ['barbless hooks'] },
    water: { temp_c: 11.5, wind_m_s: 3, wind_side_deg: 120 },
    kit: {
        baits: [{ id: 'soft two', form: 'cylinder', state: 'soaked', diameter_m: 0.0024, length_m: 0.0029, density_kg_m3: 1110 }],
        pots: [{ id: 'my medium', volume_m3: 8e-6, mouth_m: 0.025 }],
    },
    spots: [
        { id: 'long', distance_m: 11.5, depth_m: 1.62, bottom: 'silt', pot: 'my medium' },
        { id: 'short', distance_m: 5, depth_m: 1.3, bottom: 'clay', pot: 'my medium' },
    ],
    feed: [
        { spot: 'long', bait: 'soft two', how: 'clump' },
        { spot: 'short', bait: 'hard-4', count: 15, how: 'clump' },
    ],
    session: { starts: '2026-04-12T09:00:00+01:00', hours: 5 },
};

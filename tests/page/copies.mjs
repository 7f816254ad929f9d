// What the tests of copies share: files out of the page and into it, and all that lies in a browser.
import { readFile } from 'node:fs/promises';
import { button } from './log.mjs';

export const textOf = (lines) => lines.map((line) => `${line}\n`).join('');
const fileOf = (text, name) => ({ name, mimeType: 'application/jsonl', buffer: Buffer.from(text) });

/** Chooses a file to be joined; waits until it is counted. */
export async function choose(page, lines, name = 'other.journal.jsonl') {
    await page.setInputFiles('[aria-label="The file"]', fileOf(typeof lines === 'string' ? lines : textOf(lines), name));
    await page.locator('.counted h3').filter({ hasText: name }).waitFor();
}
export const readBack = (page, text, name = 'all.everything.jsonl') =>
    page.setInputFiles('[aria-label="The file of everything"]', fileOf(text, name));

/** Joins it. */
export async function joinFile(page, lines, name) {
    await choose(page, lines, name);
    await page.locator('.counted .main-act').click();
    await page.getByText(/^Joined: \d+ entr/).waitFor();
}

/** The numbers of the table that says what joining would do, by the first word of their row. */
export const countsOf = (page) =>
    page.locator('.counted tr').evaluateAll((rows) =>
        Object.fromEntries(rows.map((row) => [row.children[0].textContent.split(/[ :,]/)[0], Number(row.children[1].textContent)])),
    );

export async function download(page, name) {
    const [out] = await Promise.all([page.waitForEvent('download'), button(page, name).click()]);
    return { name: out.suggestedFilename(), text: await readFile(await out.path(), 'utf8') };
}

/** All that lies in IndexedDB, and the settings: { events: [line], meta, drafts, settings }. */
export const storeOf = (page) =>
    page.evaluate(async () => {
        const done = (request) => new Promise((resolve, reject) => {
            request.onsuccess = () => resolve(request.result);
            request.onerror = () => reject(request.error);
        });
        const database = await done(indexedDB.open('baitfall'));
        const all = async (name) => {
            const store = database.transaction(name).objectStore(name);
            const [keys, values] = [await done(store.getAllKeys()), await done(database.transaction(name).objectStore(name).getAll())];
            return Object.fromEntries(keys.map((key, i) => [key, values[i]]));
        };
        const [events, meta, drafts] = [await all('events'), await all('meta'), await all('drafts')];
        database.close();
        return { events: Object.values(events).map(({ line }) => line), meta, drafts, settings: { ...localStorage } };
    });

/** What of Baitfall is left in a browser: names of databases, caches, settings and workers. */
export const tracesOf = (page) =>
    page.evaluate(async () => ({
        databases: (await indexedDB.databases()).map(({ name }) => name),
        caches: await caches.keys(),
        settings: [...Object.keys(localStorage), ...Object.keys(sessionStorage)],
        workers: (await navigator.serviceWorker.getRegistrations()).length,
    }));

/** Rows of cells by RFC 4180. */
export function readCsv(text) {
    const rows = [[]];
    let cell = '';
    for (let i = 0, isQuoted = false; i < text.length; i++) {
        if (isQuoted && text[i] === '"' && text[i + 1] === '"') cell += text[i++];
        else if (text[i] === '"') isQuoted = !isQuoted;
        else if (!isQuoted && text[i] === ',') cell = rows.at(-1).push(cell) ? '' : '';
        else if (!isQuoted && text.startsWith('\r\n', i)) {
            rows.at(-1).push(cell);
            rows.push([]);
            cell = '';
            i++;
        } else cell += text[i];
    }
    if (rows.pop().length > 0) throw new Error('The table does not end with a line end.');
    return rows;
}

/** Puts things where the page keeps them: { meta, drafts, settings }. */
export const keepIn = (page, { meta = {}, drafts = {}, settings = {} }) =>
    page.evaluate(
        ([own, items]) =>
            new Promise((resolve, reject) => {
                for (const [key, text] of Object.entries(items)) localStorage.setItem(key, text);
                const opening = indexedDB.open('baitfall');
                opening.onerror = () => reject(opening.error);
                opening.onsuccess = () => {
                    const change = opening.result.transaction(Object.keys(own), 'readwrite');
                    for (const [store, values] of Object.entries(own))
                        for (const [key, value] of Object.entries(values)) change.objectStore(store).put(value, key);
                    change.oncomplete = () => {
                        opening.result.close();
                        resolve();
                    };
                };
            }),
        [{ meta, drafts }, settings],
    );

/** Texts that have done harm elsewhere: formulas, markup, letters that turn the line round, a line end, ten thousand letters. */
export const HOSTILE = ['=1+1', '+cmd|calc', '-2', '@SUM(A1)', '\t=1', '\r=1', '"a","b"', 'two\r\nlines', '<script>self.ran = 1</script>', '\u202egnp.exe', '\u2019=1', "'=1", 'x'.repeat(10_000), '\u{1F41F}'];

const hex = (number, digits) => number.toString(16).padStart(digits, '0');

/** A journal of so many events of every kind, corrections among them, from two devices: a seed always makes the same one. */
export function randomJournal(draw, n, first = 1) {
    const among = (choices) => choices[Math.floor(draw() * choices.length)];
    const some = (body) => Object.fromEntries(Object.entries(body).filter(() => draw() < 0.6));
    const spot = () => among(['long', 'margin', '=HYPERLINK("x")', 'the <b>reeds</b>']);
    const whole = (most) => Math.floor(draw() * most);
    const MAKE = {
        plumb: () => some({ spot: spot(), distance_m: whole(16), side_m: whole(9) - 4, depth_m: 0.5 + whole(30) / 10, bottom: among(['clay', 'silt']) }),
        water: () => some({ temp_c: whole(25), wind_m_s: whole(9), wind_side_deg: whole(360) }),
        box: () => ({ bait: among(['hard-4', 'micros-2']), volume_m3: 0.0005 }),
        feed: () => ({ bait: among(['hard-4', 'micros-2', '@bait']), ...some({ spot: spot(), count: whole(60), how: among(['clump', 'sprinkle']) }) }),
        lower: () => some({ spot: spot(), hook_bait: among(['hard-6', 'soft two']) }),
        touch: () => some({ n: 1 + whole(3) }),
        lift: () => ({ outcome: among(['landed', 'lost', 'missed', 'foul', 'nothing']), ...some({ species: among(['carp', 'F1']), mass_kg: whole(50) / 10, held: 'corner' }) }),
        net: () => ({ net: 1 + whole(3) }),
        look: () => ({ eye: among(['less', 'right', 'more']), ...some({ shown: whole(40) }) }),
        note: () => ({ note: among(HOSTILE) }),
        clock: () => ({ jump_s: whole(4000) - 2000 }),
    };
    const lines = [];
    let open, events, at;
    for (let i = 0; i < n; i++) {
        const id = hex(0xdef000000 + first + i, 32);
        const isOpen = i % 500 === 0;
        if (isOpen) [open, events, at] = [id, [], Date.UTC(2025, 2, 1 + i / 500 + first / 1000, 9)];
        at += 1000 + whole(40_000);
        const correction = events.length > 0 && draw() < 0.15 ? among(['cross', 'restore', 'fix']) : undefined;
        const kind = isOpen ? 'open' : (correction ?? among(Object.keys(MAKE)));
        const of = correction && among(events);
        const body = isOpen ? { venue: 'Withy Pool', peg: String(i) } : kind === 'fix' ? { note: among(HOSTILE) } : (MAKE[kind]?.() ?? {});
        if (!correction && !isOpen) events.push(id);
        const instant = new Date(at).toISOString().replace('Z', '+00:00');
        lines.push(JSON.stringify({ v: 1, id, session: open, dev: among(['0badcafe', '0000beef']), run: '00000001', seq: first + i, kind, at: instant, pm_s: 5, rec: instant, ...(of && { of }), body }));
    }
    return lines;
}

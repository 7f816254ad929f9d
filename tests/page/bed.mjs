// What the tests and the bench of the Bed share: a session made up for them, the way to the screen, the belief awaited.

/** A session made up for the tests: a pot every twelve minutes, four drops between two of them. */
export function dayAt(spots, nMinutes) {
    const entries = [['water', { temp_c: 14 }]];
    for (let i = 1; i < nMinutes; i++) {
        const spot = spots[Math.floor(i / 36) % spots.length];
        const ends = ['landed', 'nothing', 'missed', 'nothing', 'landed', 'nothing', 'lost'];
        if (i % 12 === 1) entries.push(['feed', { spot, bait: 'hard-4', count: 40, how: 'clump' }]);
        else if (i % 3 === 2) entries.push(['lower', { spot, hook_bait: 'hard-6' }]);
        else if (i % 3 === 1) entries.push(['lift', { outcome: ends[Math.floor(i / 3) % 7] }]);
        else entries.push(['note', { note: 'as before' }]);
    }
    return entries;
}

export const believed = (page) => page.waitForSelector('.bed[aria-busy="false"]');

export const toBed = async (page) => {
    await page.evaluate(() => (location.hash = 'bed'));
    await page.waitForSelector('.bed');
};

/** Holds back the belief's worker until it is let go; its file is asked for by the page like any other. */
export async function holdWorker(context) {
    let letGo;
    const gone = new Promise((resolve) => (letGo = resolve));
    await context.route(/\?belief$/, async (route) => {
        await gone;
        await route.continue();
    });
    return letGo;
}
/** The same from the first page of a context on: what openPage takes, and how to let go. */
export function holding() {
    let letGo;
    return { onContext: async (context) => (letGo = await holdWorker(context)), letGo: () => letGo() };
}
/** What openPage takes so that no advice comes, which would set FEED anew. */
export const UNADVISED = { onContext: (context) => context.route(/\?belief$/, () => undefined) };

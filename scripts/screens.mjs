// Takes every screen of the built page at four sizes in three looks, with days and a plan made up for the tests:
//   node scripts/screens.mjs FOLDER    needs BF_PAGE and BF_BAITFALL, as the tests of the page do (scripts/check sets them)
// One picture a screen, size and look, of its whole height: FOLDER/look/width/screen.png, "home" for the first.
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';

const [folder] = process.argv.slice(2);
if (!folder) {
    console.error('usage: node scripts/screens.mjs FOLDER');
    process.exit(2);
}
const { LOOKS, launch, serve } = await import('../tests/page/common.mjs');
const { laidOut } = await import('../tests/page/looks.mjs');
const { openDetails } = await import('../tests/page/plan.mjs');
const { onEveryScreen, settled } = await import('../tests/page/screens.mjs');
const SIZES = [
    [320, 640],
    [360, 700],
    [820, 1180],
    [1280, 800],
];
const browser = await launch();
const server = await serve();
try {
    await onEveryScreen(browser, server.url, async (page, route) => {
        for (let n = 0; n < LOOKS.length; n++) {
            if (n > 0) await page.locator('button.look').click(); // on the Bank a press counts once in 400 ms
            await settled(page);
            await openDetails(page);
            const look = await page.evaluate(() => document.documentElement.dataset.look);
            for (const [width, height] of SIZES) {
                await page.setViewportSize({ width, height });
                await laidOut(page);
                await settled(page);
                const to = join(folder, look, String(width));
                await mkdir(to, { recursive: true });
                await page.screenshot({ path: join(to, `${route || 'home'}.png`), fullPage: true });
            }
        }
    });
} finally {
    await browser.close();
    await server.stop();
}

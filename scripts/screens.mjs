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
const { onEveryScreen } = await import('../tests/page/screens.mjs');
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
        for (const [width, height] of SIZES)
            for (const look of LOOKS) {
                await page.setViewportSize({ width, height });
                await page.evaluate((word) => (document.documentElement.dataset.look = word), look);
                const to = join(folder, look, String(width));
                await mkdir(to, { recursive: true });
                await page.screenshot({ path: join(to, `${route || 'home'}.png`), fullPage: true });
            }
    });
} finally {
    await browser.close();
    await server.stop();
}

// overlap.mjs FOLDER -- opens every SVG of the folder (draw_scenes wrote them) in headless Chromium, as it is and in
// the bold look, and fails when two words overlap or a word leaves its picture. Where words stand is asked of the
// browser itself: the rectangle of each <text> on the screen.
import { readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const require = createRequire(new URL('../../../page/package.json', import.meta.url));
const { chromium } = require('playwright-core');

// Runs in the page: what is wrong with the picture, and how many words it has.
function judge() {
  const faults = [];
  const sheet = document.documentElement.getBoundingClientRect();
  const words = [...document.querySelectorAll('text')].map((word) => {
    const { left, right, top, bottom } = word.getBoundingClientRect();
    return { text: word.textContent, left, right, top, bottom };
  });
  const slack = 0.01;
  words.forEach((a, k) => {
    if (!(a.right > a.left)) faults.push(`"${a.text}" has no width`);
    if (a.left < sheet.left - slack || a.right > sheet.right + slack || a.top < sheet.top - slack || a.bottom > sheet.bottom + slack)
      faults.push(`"${a.text}" leaves the picture`);
    for (const b of words.slice(0, k))
      if (a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
        faults.push(`"${a.text}" lies on "${b.text}"`);
  });
  return { faults, words: words.length };
}

const folder = process.argv[2];
if (!folder) {
  console.error('usage: overlap.mjs FOLDER');
  process.exit(2);
}
const files = readdirSync(folder).filter((name) => name.endsWith('.svg'));
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
const page = await browser.newPage();
let words = 0;
let bad = 0;
for (const name of files) {
  await page.goto(pathToFileURL(resolve(folder, name)).href);
  for (const look of [null, 'sun']) {
    if (look) await page.evaluate((value) => document.documentElement.setAttribute('data-look', value), look);
    const found = await page.evaluate(judge);
    words += found.words;
    bad += found.faults.length;
    for (const fault of found.faults) console.error(`${name}${look ? ` in ${look}` : ''}: ${fault}`);
  }
}
await browser.close();
console.log(`${files.length} pictures, ${words} words in two looks, ${bad} faults`);
if (files.length < 200 || words < 10 * files.length) {
  console.error('too few pictures or words for the check to mean anything');
  process.exit(1);
}
process.exit(bad ? 1 : 0);

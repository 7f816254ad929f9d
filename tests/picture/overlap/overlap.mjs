// overlap.mjs FOLDER -- opens every SVG of the folder (draw_scenes wrote them) in headless Chromium, many on a page, as
// they are and in the bold look, and fails when two words of one overlap or a word leaves its picture. Where words stand
// is asked of the browser itself: the rectangle of each <text> on the screen. Each is read by the browser's own XML reader.
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';

const require = createRequire(new URL('../../../page/package.json', import.meta.url));
const { chromium } = require('playwright-core');
const ON_A_PAGE = 25;

// These run in the page. Puts the pictures into it, with one stylesheet, theirs; returns how many could not be read.
function show(sources) {
  let bad = 0;
  document.body.replaceChildren();
  for (const source of sources) {
    const read = new DOMParser().parseFromString(source, 'image/svg+xml');
    bad += read.querySelector('parsererror') ? 1 : 0;
    const svg = document.adoptNode(read.documentElement);
    if (document.body.children.length) svg.querySelector('style')?.remove();
    const frame = document.createElement('div');
    frame.append(svg);
    document.body.append(frame);
  }
  return bad;
}

// What is wrong with each picture, and how many words it has; in the look, if one is named.
function judge(look) {
  return [...document.querySelectorAll('svg')].map((svg) => {
    if (look) svg.setAttribute('data-look', look);
    const faults = [];
    const sheet = svg.getBoundingClientRect();
    const words = [...svg.querySelectorAll('text')].map((word) => {
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
  });
}

const folder = process.argv[2];
if (!folder) {
  console.error('usage: overlap.mjs FOLDER');
  process.exit(2);
}
const files = readdirSync(folder).filter((name) => name.endsWith('.svg'));
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
const page = await browser.newPage();
await page.setContent('<!doctype html><body></body>');
let words = 0;
let bad = 0;
for (let first = 0; first < files.length; first += ON_A_PAGE) {
  const batch = files.slice(first, first + ON_A_PAGE);
  bad += await page.evaluate(show, batch.map((name) => readFileSync(join(folder, name), 'utf8')));
  for (const look of [null, 'sun']) {
    const found = await page.evaluate(judge, look);
    found.forEach((picture, k) => {
      words += picture.words;
      bad += picture.faults.length;
      for (const fault of picture.faults) console.error(`${batch[k]}${look ? ` in ${look}` : ''}: ${fault}`);
    });
  }
}
await browser.close();
console.log(`${files.length} pictures, ${words} words in two looks, ${bad} faults`);
if (files.length < 200 || words < 10 * files.length) {
  console.error('too few pictures or words for the check to mean anything');
  process.exit(1);
}
process.exit(bad ? 1 : 0);

// Every screen of the page, whichever there are, looked at once: narrow, spaced, large, in the sun, with colours forced, by name;
// what is found is told under the number it belongs to.
//   BF_LONG=1  the page started afresh at every screen
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { isLong, openBank } from './bank.mjs';
import { LOOKS, browser, server, until, useBrowser } from './common.mjs';
import { misplaced } from './log.mjs';
import { overhang, wear } from './looks.mjs';
import { openDetails, setMeta } from './plan.mjs';
import { DURING, HOME, ROUTES, goTo, onEveryScreen, openHome, openLive, settled } from './screens.mjs';

useBrowser();

/** Some rules for a page; the policy refuses a style element, as it should. */
const withRules = (page, rules) =>
    page.evaluate((css) => {
        const sheet = new CSSStyleSheet();
        sheet.replaceSync(css);
        document.adoptedStyleSheets = [sheet];
    }, rules);

const SPACED = '* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-bottom: 2em !important }';
const NARROW = [
    [280, 640],
    [320, 640],
    [360, 700],
    [412, 800],
    [320, 200], // 1280 x 800 at 400 %
];

/** What holds with the text of the device so many times as large. The other setting that there is, the browser's own size of
 * letters, is tried on single screens. */
async function scaled(context, page, scale, look) {
    const cdp = await context.newCDPSession(page);
    for (const [to, act] of [[scale, look], [1, () => undefined]]) {
        await cdp.send('Emulation.setEmulatedOSTextScale', { scale: to });
        await until(page, (px) => parseFloat(getComputedStyle(document.documentElement).fontSize) === px, 16 * to);
        await act();
    }
    await cdp.detach();
}

/** What does not stand well; tables scroll by themselves: their words lie outside. */
async function faultsOf(page) {
    await openDetails(page); // an answer that came again closes them
    const wide = await overhang(page);
    const hasTable = await page.evaluate(() => document.querySelector('.scroll') !== null);
    const faults = (await misplaced(page)).filter((fault) => !hasTable || !/^outside: | over |^<thead>/.test(fault));
    return wide > 0 ? [`${wide} px too wide`, ...faults] : faults;
}

/** Words of drawings that had no room and were shortened: names that somebody gave may be, ours are not. */
const shortened = (page) =>
    page.$$eval('#app svg text', (all) => all.map((one) => one.textContent).filter((text) => /\.\.\.$|\u2026/.test(text)).map((text) => `shortened: ${text}`));

/** Texts of the sun look that its light takes away. Effective contrast under 20 000 lx on glass that gives 500 cd/m2 and sends
 * back 4.5 % of what falls on it: (L1 W + V) / (L2 W + V), W = 500, V = 286 cd/m2; against black on white. */
const paleTexts = (page) =>
    page.evaluate(() => {
        const light = (color) => {
            const [r, g, b] = color.match(/[\d.]+/g).map((one) => {
                const part = Number(one) / 255;
                return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
            });
            return 0.2126 * r + 0.7152 * g + 0.0722 * b;
        };
        const seen = (a, b) => (500 * Math.max(light(a), light(b)) + 286) / (500 * Math.min(light(a), light(b)) + 286);
        const best = seen('rgb(0, 0, 0)', 'rgb(255, 255, 255)');
        const ground = (element) => {
            for (let at = element; at; at = at.parentElement) {
                const { backgroundColor } = getComputedStyle(at);
                if (!/^rgba\(.*, 0\)$/.test(backgroundColor)) return backgroundColor;
            }
            return 'rgb(255, 255, 255)';
        };
        const texts = [];
        const walker = document.createTreeWalker(document.getElementById('app'), NodeFilter.SHOW_TEXT);
        for (let node = walker.nextNode(); node; node = walker.nextNode()) {
            const own = node.parentElement;
            if (!node.textContent.trim() || own.closest('.hide, title, desc, .sheets') || own.getClientRects().length === 0) continue;
            const style = getComputedStyle(own);
            const share = seen(own instanceof SVGElement ? style.fill : style.color, ground(own)) / best;
            const weight = Number(style.fontWeight);
            const isNote = own.closest('.note, svg') !== null;
            texts.push({ text: node.textContent.trim().slice(0, 40), share, weight, isPale: share < (isNote ? 0.85 : 0.94) || weight < 600 });
        }
        const thin = [...document.querySelectorAll('#app button:not([disabled], .term, .entry)')] // those are lines of text
            .filter((one) => one.getClientRects().length > 0 && parseFloat(getComputedStyle(one).borderTopWidth) < 3)
            .map((one) => `an edge under 3 px: ${one.innerText.slice(0, 40)}`);
        return { n: texts.length, pale: [...texts.filter(({ isPale }) => isPale).map((one) => JSON.stringify(one)), ...thin] };
    });

/** Lines of drawings that the sun takes away: paler than 94 % of black on white, or finer than 3 px. Finer are grids, rules between
 * lanes, and the edges of the six marks, which are told apart by being full, half or hollow; soft grounds, the bands of a range and
 * the steps of heat, may pale, for lines are drawn over them. */
const thinLines = (page) =>
    page.evaluate(() => {
        const faults = [];
        let n = 0;
        const [black, white] = ['rgb(0, 0, 0)', 'rgb(255, 255, 255)'];
        for (const one of document.querySelectorAll('#app svg :is(path, line, circle, rect, ellipse, polyline, polygon)')) {
            if (one.closest('.sheets, defs, .bf-grid, .grid') || one.getClientRects().length === 0) continue;
            const { fill, stroke, strokeWidth, opacity } = getComputedStyle(one);
            const isSoft = Number(opacity) < 1 || one.classList.contains('bf-heat');
            if (isSoft) {
                if (!one.closest('svg').querySelector('.bf-p2, .bf-p3, .bf-r1, .bf-r2, .bf-r3, .end')) faults.push(`soft, and no line: ${one.outerHTML.slice(0, 90)}`);
                continue;
            }
            n++;
            const { a, b, c, d } = one.getScreenCTM();
            const px = parseFloat(strokeWidth) * Math.sqrt(Math.abs(a * d - b * c));
            if (![black, white, 'none'].includes(fill) || ![black, white, 'none'].includes(stroke)) faults.push(`pale: ${fill}, ${stroke}: ${one.outerHTML.slice(0, 90)}`);
            const isFine = one.matches('.bf-edge, [class*="bf-o-"]');
            if (stroke === black && fill !== black && px < 3 && !isFine) faults.push(`${px.toFixed(1)} px: ${one.outerHTML.slice(0, 90)}`);
        }
        return { n, faults };
    });

/** What is reckoned, in any drawing, and told from what was said by its colour alone: no dash, dot or band, and no word of it. */
const colouredAlone = (page) =>
    page.$$eval('#app figure svg', (all) =>
        all.flatMap((svg) => {
            const bare = [...svg.querySelectorAll('.bf-r1, .bf-r2, .bf-r3, .bf-r4')].filter((one) => getComputedStyle(one).strokeDasharray === 'none');
            const isSaid = svg.querySelector('text.bf-r') !== null;
            return isSaid ? [] : bare.map((one) => `${svg.querySelector('title').textContent}: ${one.outerHTML.slice(0, 90)}`);
        }),
    );

/** With colours forced: controls without an edge of their own, pressed ones that look like others; whatever moves. */
const edgeless = (page) =>
    page.evaluate(() => {
        const paper = getComputedStyle(document.body).backgroundColor;
        const shown = [...document.querySelectorAll('#app button:not([disabled])')].filter((one) => one.getClientRects().length > 0);
        const hasEdge = (one) => {
            const { borderTopWidth, borderTopColor, borderBottomWidth, borderBottomColor } = getComputedStyle(one);
            return (parseFloat(borderTopWidth) >= 2 && borderTopColor !== paper) || (parseFloat(borderBottomWidth) >= 1 && borderBottomColor !== paper);
        };
        // A word with a line under it, or a row between lines, is no box.
        const bare = shown.filter((one) => !hasEdge(one) && !one.querySelector('u') && !(one.closest('li') && hasEdge(one.closest('li'))));
        const ground = (one) => getComputedStyle(one).backgroundColor;
        const pressed = shown.filter((one) => one.ariaPressed === 'true');
        const alike = pressed.filter((one) =>
            shown.some((other) => other.ariaPressed === 'false' && other.parentElement === one.parentElement && ground(other) === ground(one)),
        );
        return [...bare.map((one) => `no edge: ${one.outerHTML.slice(0, 80)}`), ...alike.map((one) => `pressed, and alike: ${one.innerText}`)];
    });
const moving = (page) =>
    page.evaluate(() =>
        [...document.querySelectorAll('*')]
            .filter((one) => {
                const { transitionDuration, animationName } = getComputedStyle(one);
                return parseFloat(transitionDuration) > 0 || animationName !== 'none';
            })
            .map((one) => `moves: ${one.outerHTML.slice(0, 80)}`),
    );

/** What has no name, or another than it shows; headings, landmarks, drawings without words or table. */
async function nameless(page, context) {
    const cdp = await context.newCDPSession(page);
    const { nodes } = await cdp.send('Accessibility.getFullAXTree');
    await cdp.detach();
    const roles = ['button', 'link', 'textbox', 'combobox', 'spinbutton', 'checkbox', 'image', 'region', 'navigation'];
    const unnamed = nodes
        .filter(({ ignored, role, name }) => !ignored && roles.includes(role?.value) && !name?.value?.trim())
        .map(({ role, properties }) => `a ${role.value} without a name ${JSON.stringify(properties ?? [])}`);
    const found = await page.evaluate(() => {
        const faults = [];
        const n = (selector) => [...document.querySelectorAll(selector)].filter((one) => one.closest('[hidden]') === null).length;
        if (n('h1') !== 1) faults.push(`${n('h1')} headings of the first level`);
        if (n('main') !== 1) faults.push(`${n('main')} main parts`);
        const plain = (text) => text.toLowerCase().replace(/[\s\u00a0,.]+/g, ' ').trim();
        for (const one of document.querySelectorAll('#app :is(button, a, summary)[aria-label]')) {
            const words = plain(one.innerText);
            if (/\p{L}/u.test(words) && !words.split(' ').every((word) => plain(one.ariaLabel).includes(word)))
                faults.push(`it shows "${words}" and is called "${one.ariaLabel}"`);
        }
        for (const svg of document.querySelectorAll('figure svg')) {
            const isNamed = svg.getAttribute('role') === 'img' && svg.querySelector('title')?.textContent && svg.querySelector('desc')?.textContent;
            if (!isNamed) faults.push(`a drawing without words: ${svg.outerHTML.slice(0, 100)}`);
            const near = svg.closest('section') ?? svg.closest('main');
            if (!svg.closest('.sheets') && !near.querySelector('table, .table, ol, ul, dl'))
                faults.push(`a drawing without a table: ${svg.querySelector('title')?.textContent}`);
        }
        return faults;
    });
    const n = nodes.filter(({ ignored, role }) => !ignored && roles.includes(role?.value)).length;
    return { n, faults: [...unnamed, ...found] };
}

/** As on a slow phone: every answer of a worker comes by itself, a while after the one before, so that all that a screen shows
 * in between is painted; what moves meanwhile is kept with its name. */
const SLOWLY = () => {
    const waiting = [];
    setInterval(() => waiting.shift()?.(), 40); // more than a frame of the screen
    const open = new Set(); // questions without an answer yet
    self.isAnswered = () => open.size === 0;
    let nWorkers = 0;
    self.Worker = class extends Worker {
        own = `${++nWorkers} `;
        constructor(...given) {
            super(...given);
            this.addEventListener('message', (event) => {
                if (!event.isTrusted) return;
                event.stopImmediatePropagation();
                waiting.push(() => {
                    this.dispatchEvent(new MessageEvent('message', { data: event.data }));
                    open.delete(this.own + event.data.id);
                });
            });
        }
        postMessage(question, ...others) {
            open.add(this.own + question.id);
            super.postMessage(question, ...others);
        }
        terminate() {
            for (const one of open) if (one.startsWith(this.own)) open.delete(one);
            super.terminate();
        }
    };
    self.shifts = 0;
    self.moved = [];
    const told = ({ node, previousRect, currentRect }) => `${node?.className || node?.nodeName} from ${previousRect.y} to ${currentRect.y}`;
    new PerformanceObserver((list) => {
        for (const { value, sources } of list.getEntries()) {
            self.shifts += value;
            self.moved.push(...sources.map(told));
        }
    }).observe({ type: 'layout-shift', buffered: true });
};
/** What moved on a screen since it was gone to, once all its answers are there; layout shifts of less than 0.02 do not count. */
async function jumps(page, route) {
    await until(page, () => self.isAnswered());
    await settled(page);
    const { value, moved } = await page.evaluate(() => ({ value: self.shifts, moved: self.moved }));
    return value < 0.02 ? [] : [`#${route}: ${value}: ${moved.join('; ')}`];
}

const MEDIA = [
    { forcedColors: 'active' },
    { contrast: 'more' },
    { reducedMotion: 'reduce' },
    { colorScheme: 'dark' },
];
const found = Object.fromEntries(['19', '21', '22', '23', '24', '25', '34', '38'].map((number) => [number, []]));
const looked = { texts: 0, lines: 0, names: 0, screens: 0 };
let walk;
/** Every screen looked at, once for all the tests that ask what was found. */
const lookAtAll = () => (walk ??= (async () => {
    const tell = (number, at, faults) => found[number].push(...faults.map((fault) => `${at}: ${fault}`));
    const look = async (page, route, context) => {
        const at = `#${route}`;
        looked.screens++;
        await wear(page, 'sun'); // all letters bold, and so the widest
        for (const [width, height] of NARROW) {
            await page.setViewportSize({ width, height });
            tell('19', `${at} at ${width} x ${height}`, await faultsOf(page));
        }
        tell('19', at, await shortened(page));
        await page.setViewportSize({ width: 320, height: 640 });
        const { n, pale } = await paleTexts(page);
        looked.texts += n;
        const lines = await thinLines(page);
        looked.lines += lines.n;
        tell('24', at, [...pale, ...lines.faults]);
        tell('25', at, await colouredAlone(page));
        await withRules(page, SPACED);
        tell('22', at, await faultsOf(page));
        await withRules(page, '');
        await scaled(context, page, 2, async () => tell('21', at, await faultsOf(page)));
        const names = await nameless(page, context);
        looked.names += names.n;
        tell('34', at, names.faults);
        await wear(page, 'shade');
        for (const media of MEDIA) {
            await page.emulateMedia(media);
            const how = `${at} with ${Object.entries(media)[0].join(' ')}`;
            tell('23', how, [...(await moving(page)), ...(media.forcedColors ? await edgeless(page) : [])]);
            await page.emulateMedia(Object.fromEntries(Object.keys(media).map((key) => [key, null])));
        }
    };
    const leave = (page) =>
        page.evaluate(() => {
            self.shifts = 0;
            self.moved = [];
        });
    // On Next an older answer stands and gives way to a newer: what stays in its place then, next.test.mjs tells.
    const arrive = async (page, route) => route !== 'next' && found['38'].push(...(await jumps(page, route)));
    await onEveryScreen(browser, server.url, look, { leave, arrive, scripts: [SLOWLY, `location.protocol === 'http:' && (localStorage['baitfall.look'] ??= 'sun')`] });
})());

test('19. every screen 280 to 412 px wide, and 1280 at 400 %: no sideways scroll, nothing cut, no word over another', async () => {
    await lookAtAll();
    assert.equal(looked.screens, ROUTES.length);
    assert.deepEqual(found['19'], []);
});
test('21. every screen with the text of the device twice as large: no sideways scroll, nothing cut, no word over another', async () => {
    await lookAtAll();
    assert.deepEqual(found['21'], []);
});
test('22. every screen with the spacing of WCAG 1.4.12: no sideways scroll, nothing cut, no word over another', async () => {
    await lookAtAll();
    assert.deepEqual(found['22'], []);
});
test('23. every screen with forced colours keeps its edges and shows what is pressed; whatever the device asks for, nothing moves', async () => {
    await lookAtAll();
    assert.deepEqual(found['23'], []);
});
test('24. every text of the sun look keeps 94 % of what black on white has in the sun, 85 % in notes; bold; edges and lines of 3 px', async () => {
    await lookAtAll();
    assert.ok(looked.texts > 1000, `${looked.texts} texts`);
    assert.ok(looked.lines > 300, `${looked.lines} lines`);
    assert.deepEqual(found['24'], []);
});
test('34. every control and drawing of every screen has its name, the one that it shows; one first heading, tables beside charts', async () => {
    await lookAtAll();
    assert.ok(looked.names > 300, `${looked.names} names`);
    assert.deepEqual(found['34'], []);
});

test('38. no screen jumps while it opens, however slowly its answers come: layout shifts come to less than 0.02', async () => {
    await lookAtAll();
    assert.deepEqual(found['38'], []);
});
/** Started afresh at them; with BF_LONG, at every screen. */
const AFRESH = ['', 'review', 'bank', 'next'];
test('38. nor does a screen at which the page starts jump', async () => {
    const shifts = [];
    for (const [open, routes] of [[openHome, HOME], [openLive, DURING]]) {
        const { context, page } = await open(browser, server.url, { scripts: [SLOWLY] });
        for (const route of routes.filter((one) => isLong || AFRESH.includes(one))) {
            for (const key of ['bed', 'next']) await setMeta(page, key); // as if never looked at
            await page.goto('about:blank');
            await page.goto(`${server.url}#${route}`);
            await page.waitForSelector('main');
            shifts.push(...(await jumps(page, route)));
        }
        await context.close();
    }
    assert.deepEqual(shifts, []);
});

/** The eyes that Chromium can put on; what it asks about contrast is one of them. */
const EYES = ['deuteranopia', 'protanopia', 'tritanopia', 'achromatopsia', 'reducedContrast'];
/** In the last of them nothing stands out from anything but letters: there word and shape alone are held against each other. */
const COLOURED = EYES.slice(0, 4);
const LEAST_APART = 20; // CIE 1976 difference of two colours that nobody takes for each other, side by side

/** The colours at points of a picture, as [r, g, b], read by the page itself. */
const colours = (page, png, points) =>
    page.evaluate(
        async ([base64, all]) => {
            const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
            const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
            const context = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d');
            context.drawImage(bitmap, 0, 0);
            return all.map(([x, y]) => [...context.getImageData(x, y, 1, 1).data.slice(0, 3)]);
        },
        [png.toString('base64'), points],
    );
const linear = (part) => (part <= 10.31475 ? part / 3294.6 : ((part / 255 + 0.055) / 1.055) ** 2.4);
function lab(rgb) {
    const [r, g, b] = rgb.map(linear);
    const f = (t) => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);
    const [x, y, z] = [(0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505, 0.2126 * r + 0.7152 * g + 0.0722 * b, (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089].map(f);
    return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}
const apart = (a, b) => Math.hypot(...lab(a).map((one, i) => one - lab(b)[i]));

test('25. whatever the eye makes of colours, each band stands out from its button, and what it cannot tell apart has another word and shape', async () => {
    const { context, page } = await openBank(browser, server.url);
    const cdp = await context.newCDPSession(page);
    const alike = new Set();
    let buttons;
    for (const look of LOOKS) {
        await wear(page, look);
        buttons = await page.$$eval('.outcomes button', (all) =>
            all.map((one) => {
                const { left, top, height, width } = one.getBoundingClientRect();
                const word = one.querySelector('.w')?.innerText ?? one.innerText.split('\n')[0];
                return { word, shape: one.querySelector('.mark').innerHTML, band: [left + 9, top + height / 2], ground: [left + width - 12, top + 14] };
            }),
        );
        assert.equal(buttons.length, 6);
        for (const type of EYES) {
            await cdp.send('Emulation.setEmulatedVisionDeficiency', { type });
            const png = await page.screenshot();
            const seen = await colours(page, png, buttons.flatMap(({ band, ground }) => [band, ground]).map((point) => point.map(Math.round)));
            for (let i = 0; i < 6; i++) {
                if (COLOURED.includes(type)) assert.ok(apart(seen[2 * i], seen[2 * i + 1]) > LEAST_APART, `${buttons[i].word}: ${look}, ${type}: ${seen[2 * i]} on ${seen[2 * i + 1]}`);
                for (let k = 0; k < i; k++) if (apart(seen[2 * i], seen[2 * k]) < LEAST_APART) alike.add(`${i} ${k}`);
            }
        }
    }
    assert.ok(alike.size > 0, 'colour alone would not do, or the eyes were not put on');
    for (const pair of alike) {
        const [a, b] = pair.split(' ').map((i) => buttons[i]);
        assert.notEqual(a.word, b.word);
        assert.notEqual(a.shape, b.shape);
    }
    await context.close();
});

test('25. in no drawing is what is reckoned told from what was said by colour alone', async () => {
    await lookAtAll();
    assert.deepEqual(found['25'], []);
});

const LEAST_STEP = 4; // of lightness, CIE 1976: two grounds that touch and are not taken for one
test('25. few to many is a matter of light: whatever the eye makes of colours, each step of heat is darker, or each lighter, than the one before', async () => {
    const { context, page } = await openHome(browser, server.url);
    await goTo(page, 'pot');
    const cdp = await context.newCDPSession(page);
    for (const look of LOOKS) {
        await wear(page, look);
        await page.locator('svg rect.bf-heat').first().scrollIntoViewIfNeeded();
        const swatches = await page.$$eval('svg rect.bf-heat', (all) =>
            all.map((one) => {
                const { left, top, width, height } = one.getBoundingClientRect();
                return [Number(/bf-h(\d)/.exec(one.getAttribute('class'))[1]), left + width / 2, top + height / 2];
            }),
        );
        assert.deepEqual(swatches.map(([step]) => step).sort(), [1, 2, 3, 4, 5, 6]);
        swatches.sort(([a], [b]) => a - b);
        for (const type of COLOURED) {
            await cdp.send('Emulation.setEmulatedVisionDeficiency', { type });
            const seen = await colours(page, await page.screenshot(), swatches.map(([, x, y]) => [Math.round(x), Math.round(y)]));
            const light = seen.map((rgb) => lab(rgb)[0]);
            const steps = light.slice(1).map((one, i) => (one - light[i]) * (look === 'dusk' ? 1 : -1));
            assert.ok(Math.min(...steps) > LEAST_STEP, `${look}, ${type}: ${light.map((one) => one.toFixed(0))}`);
        }
    }
    await context.close();
});

test('25. on the timeline too each kind of bite has a shape and a word of its own', async () => {
    const { context, page } = await openHome(browser, server.url);
    await goTo(page, 'review');
    const kinds = await page.$$eval('figure svg [class*="bf-o-"]', (all) => {
        const shapes = {};
        for (const one of all) {
            const kind = /bf-o-(\w+)/.exec(one.getAttribute('class'))[1];
            const path = one.getAttribute('d')?.replace(/[\d\s.,-]+/g, '') ?? one.tagName;
            (shapes[kind] ??= new Set()).add(`${path} ${one.classList.contains('bf-hollow')}`);
        }
        return Object.entries(shapes).map(([kind, own]) => [kind, [...own].sort().join(' | ')]);
    });
    assert.ok(kinds.length >= 4, JSON.stringify(kinds));
    assert.equal(new Set(kinds.map(([, shape]) => shape)).size, kinds.length, JSON.stringify(kinds));
    const words = (await page.locator('figure').first().innerText()) + (await page.$$eval('figure svg text', (all) => all.map((one) => one.textContent).join(' ')));
    for (const [kind] of kinds) assert.match(words, new RegExp(kind, 'i'));
    await context.close();
});

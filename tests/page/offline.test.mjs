// The page without a connection: the service worker keeps one whole build and nothing else is ever needed.
import assert from 'node:assert/strict';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import http from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { keptN, kept, openPage, press, startSession } from './bank.mjs';
import { HUNG_MS, answered, button, eventually, launch, newContext, offlineWords, openQuick, pageFolder, sentence, serve } from './common.mjs';

let browser;
before(async () => (browser = await launch()));
after(() => browser.close());

test('1. with the server stopped a reload, a new page and a new question are still answered, and the Bank is used', async (t) => {
    const server = await serve();
    t.after(server.stop);
    const { context, page, faults } = await openQuick(browser, server.url, { serviceWorkers: 'allow' });
    assert.match(await offlineWords(page), /^Ready offline: yes\. All \d+ files are kept/);
    const before = await sentence(page);
    const kept = await page.evaluate(async () => {
        const cache = await caches.open((await caches.keys())[0]);
        return (await cache.keys()).map((request) => request.url.split('/').pop());
    });
    assert.deepEqual(
        kept.filter((name) => name.endsWith('.wasm')).map((name) => name.replace(/-[0-9a-f]+\.wasm/, '')),
        ['answer-simd', 'journal-simd'],
    );
    await server.stop(); // here it is the test
    await assert.rejects(fetch(server.url));
    await context.setOffline(true);

    await page.reload();
    await answered(page);
    assert.equal(await sentence(page), before);
    await button(page, 'Bait after').press('Enter');
    await page.waitForFunction((old) => document.querySelector('[role=status]').innerText !== old, before);
    await answered(page);
    const changed = await sentence(page);

    const second = await context.newPage();
    await second.goto(`${server.url}#pot`);
    await answered(second);
    assert.equal(await sentence(second), changed);
    assert.match(await offlineWords(second), /^Ready offline: yes/);
    await startSession(second, server.url);
    await press(second, 'fish');
    await keptN(second, 2);
    assert.deepEqual(faults, []);
    await context.close();
});

/** A line to a server, which keeps what goes over it: each answer's file, the bytes of its body as they were sent, and when it was asked for. */
async function countedLine(server) {
    const { host, hostname, port, origin } = new URL(server.url);
    const sent = [];
    const line = http.createServer(({ method, url, headers }, response) => {
        const one = { file: url.split('/').pop(), asked: Date.now(), bytes: 0 };
        sent.push(one);
        const own = { ...headers, host, ...(headers.origin && { origin }) };
        const ask = http.request({ hostname, port, method, path: url, headers: own }, (answer) => {
            response.writeHead(answer.statusCode, answer.headers);
            answer.on('data', (bytes) => (one.bytes += bytes.length));
            answer.pipe(response);
        });
        ask.end();
    });
    await new Promise((listening) => line.listen(0, '127.0.0.1', listening));
    return { url: `http://127.0.0.1:${line.address().port}/`, sent, stop: () => line.close() };
}

/** Keeps when the first answer stood whole: its three readings and both drawings. */
const STOOD = `new MutationObserver((_, watch) => {
    const isWhole = document.querySelectorAll('.answer .read').length === 3 && document.querySelectorAll('figure svg').length === 2;
    if (!isWhole) return;
    self.stoodAt = performance.timeOrigin + performance.now();
    watch.disconnect();
}).observe(document, { subtree: true, childList: true });`;

const sum = (sizes) => sizes.reduce((total, { bytes }) => total + bytes, 0);

test('38. a first opening fetches under 250 kB until its answer stands, and under 560 kB until everything is kept; each file once', async (t) => {
    const server = await serve();
    const line = await countedLine(server);
    t.after(async () => {
        line.stop();
        await server.stop();
    });
    const { context, page, faults } = await openPage(browser, { width: 360, height: 700, serviceWorkers: 'allow', scripts: [STOOD] });
    await page.goto(line.url);
    await answered(page);
    assert.match(await offlineWords(page), /^Ready offline: yes/);
    const stoodAt = await page.evaluate(() => self.stoodAt);
    await context.close();

    const first = line.sent.filter(({ asked }) => asked <= stoodAt);
    const firstWords = first.filter(({ bytes }) => bytes > 0).map(({ file, bytes }) => `${file} ${bytes}`).join('\n');
    t.diagnostic(`until its answer stands ${sum(first)} bytes, in all ${sum(line.sent)}`);
    assert.ok(first.some(({ file }) => file.startsWith('answer-simd-')));
    assert.ok(sum(first) < 250_000, `${sum(first)} bytes:\n${firstWords}`);
    assert.ok(sum(line.sent) < 560_000, `${sum(line.sent)} bytes`);
    const names = line.sent.filter(({ bytes }) => bytes > 0).map(({ file }) => file);
    assert.deepEqual([...new Set(names)].length, names.length, names.join());
    assert.deepEqual(faults, []);
});

test('where the script of the other screens does not come, the first answer stands and it is said; with it they open', async (t) => {
    const server = await serve();
    t.after(server.stop);
    const { context, page } = await openPage(browser, { width: 360, height: 700 });
    await page.route(/\/screens-/, (route) => route.abort());
    const said = page.getByText('The other screens did not load.');
    await page.goto(server.url);
    await answered(page);
    await said.waitFor();
    await page.evaluate(() => (location.hash = 'settings'));
    await page.reload();
    await said.waitFor();
    assert.equal(await page.locator('.answer').count(), 0);
    await page.unroute(/\/screens-/);
    await page.reload();
    await page.getByRole('heading', { name: 'Settings' }).waitFor();
    assert.equal(await said.count(), 0);
    await context.close();
});

test('a browser that refuses to keep the page is said so, in words; the page works', async (t) => {
    const server = await serve();
    t.after(server.stop);
    for (const refusal of [`Promise.reject(new DOMException('Failed to register a ServiceWorker', 'SecurityError'))`, 'Promise.resolve()']) {
        const context = await newContext(browser);
        await context.addInitScript(`navigator.serviceWorker.register = () => ${refusal}`);
        const page = await context.newPage();
        await page.goto(server.url);
        const words = await offlineWords(page);
        assert.match(words, /^Ready offline: no\. This browser does not let the page keep its files/);
        assert.doesNotMatch(words, /Worker|undefined|Failed/);
        await page.goto(`${server.url}#pot`);
        await answered(page);
        await context.close();
    }
});

test('10. a newer build waits until the session is over, closed and opened again or not; then it takes over, and what was entered is as it was', async (t) => {
    const folder = await mkdtemp(join(tmpdir(), 'baitfall-page-'));
    t.after(() => rm(folder, { recursive: true }));
    await cp(pageFolder, folder, { recursive: true });
    const server = await serve(folder);
    t.after(server.stop);
    const { context, page, faults } = await openPage(browser, { serviceWorkers: 'allow' });
    await page.goto(`${server.url}#pot`);
    await answered(page);
    assert.match(await offlineWords(page), /^Ready offline: yes/);
    const title = (await page.title()).split(' - ')[1];
    await startSession(page, server.url);
    for (const name of ['fish', 'missed']) await press(page, name);
    const events = await keptN(page, 3);

    const change = async (name, from, to) => {
        const path = join(folder, name);
        const text = await readFile(path, 'utf8');
        assert.match(text, from);
        await writeFile(path, text.replace(from, to));
        await rm(`${path}.gz`, { force: true });
    };
    await change('index.html', /<title>[^<]*/, '<title>Newer');
    await change('service.js', /"[0-9a-f]{10}"/, '"0123456789"');
    const worker = (page) =>
        page.evaluate(async () => {
            const { active, waiting } = await navigator.serviceWorker.getRegistration();
            return { isActive: active?.state === 'activated', isWaiting: Boolean(waiting), caches: (await caches.keys()).length };
        });
    const isOld = async (page) => {
        await page.waitForSelector('.outcomes');
        assert.equal(await page.title(), `Bank, peg 14 - ${title}`);
    };
    await page.reload();
    await page.evaluate(async () => void (await (await navigator.serviceWorker.getRegistration()).update()));
    await eventually(async () => (await worker(page)).isWaiting);
    await page.reload();
    await isOld(page);

    // All windows closed in the session: the browser starts the newer worker, the page stays as it was.
    let at = page;
    const closed = async () => {
        await at.goto('about:blank');
        const next = await context.newPage();
        await at.close();
        at = next;
        await at.goto(server.url);
    };
    await eventually(async () => {
        await closed();
        await isOld(at);
        return !(await worker(at)).isWaiting;
    });
    assert.deepEqual(await kept(at), events);
    await press(at, 'lost');
    await keptN(at, 4);
    await closed();
    await isOld(at);
    await at.evaluate(() => (location.hash = 'log'));
    await button(at, 'End session').click();
    await button(at, 'Keep').click();
    const all = await keptN(at, 5);
    await at.waitForFunction(() => location.hash === '#review'); // where the end of a session leads, once it is kept
    assert.deepEqual(all.slice(0, 3), events);
    // Its own files are there until it is closed: a worker of the older build still starts.
    await at.evaluate(() => (location.hash = 'pot'));
    await answered(at);
    assert.ok((await at.title()).endsWith(title));

    await eventually(async () => {
        await closed();
        await at.waitForSelector('.jobs');
        return (await at.title()) === 'Baitfall - Newer';
    });
    assert.deepEqual(await kept(at), all);
    await eventually(async () => (await at.evaluate(() => caches.keys())).join() === 'baitfall-0123456789');
    assert.deepEqual(faults, []);
    await context.close();
});

test('38. the browser finds nothing against installing it', async (t) => {
    const server = await serve();
    t.after(server.stop);
    // A context with a folder of its own: a browser never installs from a private window.
    const folder = await mkdtemp(join(tmpdir(), 'baitfall-profile-'));
    const context = await launch(folder);
    context.setDefaultTimeout(HUNG_MS);
    t.after(async () => {
        await context.close();
        await rm(folder, { recursive: true, maxRetries: 5 });
    });
    const page = await context.newPage();
    await page.goto(`${server.url}#pot`);
    await answered(page);
    const session = await context.newCDPSession(page);
    const { installabilityErrors } = await session.send('Page.getInstallabilityErrors');
    assert.deepEqual(installabilityErrors, []);
    const { errors, data } = await session.send('Page.getAppManifest');
    assert.deepEqual(errors, []);
    const manifest = JSON.parse(data);
    const icons = manifest.icons.map((icon) => `${icon.sizes} ${icon.purpose}`);
    assert.deepEqual(icons, ['192x192 any', '512x512 any', '512x512 maskable']);
});

test('the button to install is there only when the browser offers it', async (t) => {
    const server = await serve();
    t.after(server.stop);
    const { context, page } = await openQuick(browser, server.url);
    const install = button(page, 'Put Baitfall on this device');
    assert.equal(await install.count(), 0);
    await page.evaluate(() => {
        const offer = new Event('beforeinstallprompt', { cancelable: true });
        offer.prompt = () => (window.wasAsked = true);
        dispatchEvent(offer);
    });
    await install.click();
    assert.equal(await page.evaluate(() => window.wasAsked), true);
    await install.waitFor({ state: 'detached' });
    await context.close();
});

test('the policy in the page is the one in the header, and allows no inline script or style', async (t) => {
    const server = await serve();
    t.after(server.stop);
    const response = await fetch(server.url);
    const html = await response.text();
    const [, own] = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(html);
    assert.equal(response.headers.get('content-security-policy'), `${own}; frame-ancestors 'none'`);
    assert.doesNotMatch(own, /unsafe-inline|unsafe-eval'(?<!wasm-unsafe-eval')|https?:|\*/);
    assert.doesNotMatch(html, /<style|style=|<script(?![^>]* src=)|\son[a-z]+=/);
});

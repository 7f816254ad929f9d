// The page without a connection: the service worker keeps one whole build and nothing else is ever needed.
import assert from 'node:assert/strict';
import { cp, mkdtemp, readFile, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { gzipSync } from 'node:zlib';
import { keptN, kept, openPage, press, startSession } from './bank.mjs';
import { HUNG_MS, answered, button, eventually, launch, newContext, offlineWords, openQuick, pageFolder, sentence, serve } from './common.mjs';

let browser;
before(async () => (browser = await launch()));
after(() => browser.close());

test('1. with the server stopped a reload, a new page and a new question are still answered, and the Bank is used', async (t) => {
    const server = await serve();
    t.after(server.stop);
    const { context, page, faults } = await openQuick(browser, server.url);
    assert.match(await offlineWords(page), /^Ready offline: yes\. All \d+ files are kept/);
    const before = await sentence(page);
    const kept = await page.evaluate(async () => {
        const cache = await caches.open((await caches.keys())[0]);
        return (await cache.keys()).map((request) => request.url.split('/').pop());
    });
    assert.deepEqual(
        kept.filter((name) => name.endsWith('.wasm')).map((name) => name.replace(/-[0-9a-f]+\.wasm/, '')),
        ['core-simd'],
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

test('what a browser fetches and keeps is under 460 kB compressed, the page without its module under 130 kB', async () => {
    const files = await readdir(pageFolder);
    const sizes = await Promise.all(
        files
            .filter((name) => !/^core-[0-9a-f]+\.wasm$/.test(name)) // of the two modules it takes the one with SIMD
            .filter((name) => !/\.gz$|^licences\.txt$/.test(name)) // the same again for the server; and nobody fetches it
            .map(async (name) => [name, gzipSync(await readFile(join(pageFolder, name)), { level: 9 }).length]),
    );
    const sum = (own) => own.reduce((total, [, bytes]) => total + bytes, 0);
    assert.ok(sizes.some(([name]) => name.endsWith('.wasm')));
    assert.ok(sum(sizes) < 460_000, `${sum(sizes)} bytes`);
    const page = sizes.filter(([name]) => !name.endsWith('.wasm'));
    assert.ok(sum(page) < 130_000, `${sum(page)} bytes`);
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

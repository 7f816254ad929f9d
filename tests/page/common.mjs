// What the tests of the page share: the built program serving the built page, Debian's Chromium, an opened screen.
//   BF_PAGE      folder of the built page
//   BF_BAITFALL  the built program
import assert from 'node:assert/strict';
import { execFileSync, spawn } from 'node:child_process';
import { readFile, readdir } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { after, before } from 'node:test';

const require = createRequire(new URL('../../page/package.json', import.meta.url));
export const { chromium } = require('playwright-core');
export const axePath = require.resolve('axe-core/axe.min.js');

function fromEnvironment(name) {
    const value = process.env[name];
    assert.ok(value, `${name} must be set`);
    return value;
}
export const pageFolder = fromEnvironment('BF_PAGE');
export const program = fromEnvironment('BF_BAITFALL');

/** The program's answer to a request, as the bytes it prints or read. */
export const nativeText = (command, request) =>
    execFileSync(program, [command, '-', '--json'], { input: JSON.stringify(request), maxBuffer: 1 << 26 })
        .toString()
        .trimEnd();
export const native = (command, request) => JSON.parse(nativeText(command, request));

const compiled = new Map();
async function compileWith(name) {
    for (const file of (await readdir(pageFolder)).filter((one) => one.endsWith('.wasm'))) {
        const module = await WebAssembly.compile(await readFile(join(pageFolder, file)));
        if (WebAssembly.Module.exports(module).some((one) => one.name === name)) return module;
    }
    return assert.fail(`no module of the page exports ${name}`);
}
/** A core of its own, from the page's module that exports such a function: a second reader of what the page asks. */
export async function coreWith(name) {
    if (!compiled.has(name)) compiled.set(name, compileWith(name));
    const { exports } = await WebAssembly.instantiate(await compiled.get(name));
    exports._initialize();
    return exports;
}

export const LOOKS = ['sun', 'shade', 'dusk'];

/** No test asks how quick the machine is: each waits until a thing is so. What has not come after this long hangs. */
export const HUNG_MS = 120_000;

/** Starts `baitfall serve` on a free port; stop() ends it, once, and waits until it has ended. */
export async function serve(folder = pageFolder) {
    const child = spawn(program, ['serve', '--port', '0', '--folder', folder], {
        stdio: ['ignore', 'pipe', 'inherit'],
    });
    const ended = new Promise((resolve) => child.once('exit', resolve));
    const url = await new Promise((resolve, reject) => {
        child.once('error', reject);
        child.once('exit', (code) => reject(new Error(`serve ended with ${code}`)));
        createInterface({ input: child.stdout }).once('line', (line) => resolve(/http:\S+/.exec(line)[0]));
    });
    const stop = async () => {
        child.kill('SIGTERM');
        await ended;
    };
    return { url, stop };
}

/** What the browser goes without: the drop-down of an address bar that nobody sees, a process of its own in each context; and
 * what Playwright leaves out too, whose own list a second switch takes the place of. */
const NOT_NEEDED = [
    'WebUIOmniboxPopup',
    'WebUIOmniboxAimPopup',
    'AvoidUnnecessaryBeforeUnloadCheckSync',
    'BoundaryEventDispatchTracksNodeRemoval',
    'DestroyProfileOnBrowserClose',
    'DialMediaRouteProvider',
    'GlobalMediaControls',
    'HttpsUpgrades',
    'LensOverlay',
    'MediaRouter',
    'OptimizationHints',
    'PaintHolding',
    'RenderDocument',
    'ThirdPartyStoragePartitioning',
    'Translate',
];

export const CHROMIUM = {
    executablePath: '/usr/bin/chromium',
    args: [
        `--disable-features=${NOT_NEEDED.join()}`,
        '--headless',
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
    ],
};

/** A browser; or, given a folder for its profile, the one context that keeps its things there. */
export function launch(profile) {
    return profile ? chromium.launchPersistentContext(profile, CHROMIUM) : chromium.launch(CHROMIUM);
}

/** A context whose waits end when a thing is so, or hangs. */
export async function newContext(browser, options = {}) {
    const context = await browser.newContext(options);
    context.setDefaultTimeout(HUNG_MS);
    return context;
}

/** What a file of tests runs in, from before its first test to after its last. */
export let browser, server;
export function useBrowser() {
    before(async () => {
        browser = await launch();
        server = await serve();
    });
    after(async () => {
        await browser.close();
        await server.stop();
    });
}

/**
 * Opens the quick screen in a context of its own, which keeps no files of the page unless `serviceWorkers` is 'allow'. `faults` fills with whatever goes wrong: errors of the script, of the
 * console (a breach of the Content-Security-Policy is one), and requests to any other address.
 */
export async function openQuick(browser, url, { width = 360, height = 700, look, keep = {}, serviceWorkers = 'block', ...options } = {}) {
    const context = await newContext(browser, { viewport: { width, height }, serviceWorkers, ...options });
    const page = await context.newPage();
    const faults = [];
    page.on('pageerror', (fault) => faults.push(fault.message));
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
    page.on('request', (request) => request.url().startsWith(url) || faults.push(`asked for ${request.url()}`));
    const kept = { ...keep, ...(look && { 'baitfall.look': look }) };
    await page.goto(`${url}#pot`);
    if (Object.keys(kept).length > 0) {
        await page.evaluate(
            (items) => Object.entries(items).forEach(([key, text]) => localStorage.setItem(key, text)),
            kept,
        );
        await page.reload();
    }
    await answered(page);
    return { context, page, faults };
}

/** Waits until it holds on the page. Asked from here: by a clock that a test holds the page would not be asked. */
export async function until(page, holds, given) {
    await eventually(
        () => page.evaluate(holds, given),
        async () => `${holds} ${JSON.stringify(given) ?? ''}\n${await page.locator('body').innerText()}`,
    );
}

/** Asks again and again until the answer is not falsy, and gives it. */
export async function eventually(ask, words = () => ask) {
    for (const end = Date.now() + HUNG_MS; Date.now() < end; ) {
        const answer = await ask();
        if (answer) return answer;
        await new Promise((resolve) => setTimeout(resolve, 20));
    }
    return assert.fail(`never: ${await words()}`);
}

/** Waits until all three answers are of what is chosen now, and both drawings stand. */
export async function answered(page) {
    await page.waitForSelector('.answer[aria-busy="false"]');
    await page.waitForSelector('.answer .read:nth-child(3)');
    await page.waitForFunction(() => document.querySelectorAll('figure svg').length === 2);
}

export const sentence = (page) => page.locator('[role=status]').innerText();
export const value = (page, name) => page.getByRole('group', { name, exact: true }).locator('.value').innerText();
export const button = (page, name) => page.getByRole('button', { name, exact: true });

/** The line that says whether the page opens without a connection. */
export async function offlineWords(page) {
    const line = page.getByText(/^Ready offline: (yes|no)/);
    await line.waitFor(); // it may be there before it is shown
    return line.innerText();
}

// Builds the page into one static folder:
//   node build.mjs --wasm ../build/wasm --out ../build/page
// Every file but index.html and service.js carries a hash of its bytes in its name; the service worker gets the list.
// What gets smaller lies there compressed too, with .gz after its name: `baitfall serve` sends that. The folder's contents
// are replaced, not the folder: a running server keeps it open. The plain files go into page.zip beside it, for any host
// of static files.
import { createHash } from 'node:crypto';
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { parseArgs } from 'node:util';
import { gzipSync } from 'node:zlib';
import * as esbuild from 'esbuild';
import { packed } from './png.mjs';

const here = import.meta.dirname ?? new URL('.', import.meta.url).pathname;
const root = join(here, '..');
const { values: option } = parseArgs({
    options: {
        wasm: { type: 'string', default: join(root, 'build/wasm') },
        out: { type: 'string', default: join(root, 'build/page') },
    },
});

// What the page may load: its own files, its own wasm, nothing else. The server sends the same words as a header.
const CSP =
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self'; font-src 'self'; " +
    "connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'";

// Letters of the page and of the drawings: Latin with its accents, and the signs that our numbers use.
const LETTERS =
    'U+0020-007E,U+00A0-00FF,U+2013,U+2014,U+2018,U+2019,U+201C,U+201D,U+2026,U+2190-2193,U+2212,U+2264,U+2265';
const FONTS = '/usr/share/fonts/truetype/dejavu';
const PACKS = /\.(html|js|css|wasm|svg|webmanifest|txt)$/;

const hash = (bytes) => createHash('sha256').update(bytes).digest('hex').slice(0, 10);
const read = (...path) => readFileSync(join(...path));

const files = new Map(); // name -> bytes

/** Keeps a file under a name that holds its hash, and returns that name. */
function put(stem, ending, bytes) {
    const name = `${stem}-${hash(bytes)}.${ending}`;
    files.set(name, bytes);
    return name;
}

/** Fills the {names} of a text; a name without a value stops the build. */
function fill(text, values) {
    return text.replace(/\{([a-z0-9]+)\}/g, (_, name) => {
        if (!(name in values)) throw new Error(`no value for {${name}}`);
        return values[name];
    });
}

const SCRIPT = { bundle: true, minify: true, target: 'es2022', jsx: 'automatic', jsxImportSource: 'preact', write: false, logLevel: 'warning' };
const inQuotes = (words) => Object.fromEntries(Object.entries(words).map(([name, value]) => [name, JSON.stringify(value)]));

/** A worker's file is a plain script, which every browser starts. */
async function worker(entry, define) {
    const built = await esbuild.build({
        ...SCRIPT,
        entryPoints: [join(here, 'src', entry)],
        format: 'iife',
        define: inQuotes(define),
    });
    return built.outputFiles[0].contents;
}

/** The page's own scripts are modules: the first opening's, what it shares with the other screens, and these, which it fetches later.
 * Returns the names of those fetched at once, the first opening's first. */
async function scripts(define) {
    const { outputFiles, metafile } = await esbuild.build({
        ...SCRIPT,
        entryPoints: { app: join(here, 'src/main.tsx') },
        format: 'esm',
        splitting: true,
        outdir: here,
        chunkNames: '[name]',
        define: inQuotes(define),
        metafile: true,
    });
    const texts = new Map(outputFiles.map(({ path, text }) => [basename(path), text]));
    const asked = Object.fromEntries(Object.entries(metafile.outputs).map(([path, { imports }]) => [basename(path), imports]));
    const names = new Map();
    const nameOf = (file) => {
        const named = (text, { path }) => text.replaceAll(`"./${basename(path)}"`, `"./${nameOf(basename(path))}"`);
        if (!names.has(file)) names.set(file, put(basename(file, '.js'), 'js', asked[file].reduce(named, texts.get(file))));
        return names.get(file);
    };
    const atOnce = asked['app.js'].filter(({ kind }) => kind === 'import-statement').map(({ path }) => basename(path));
    return ['app.js', ...atOnce].map(nameOf);
}

/** Only the letters above, without kerning: the drawings are laid out by plain advance widths. */
function font(face, scratch) {
    const out = join(scratch, `${face}.woff2`);
    const options = [
        `--unicodes=${LETTERS}`,
        '--layout-features=',
        '--drop-tables+=GPOS,GSUB,GDEF,kern',
        '--no-hinting',
        '--flavor=woff2',
        `--output-file=${out}`,
    ];
    execFileSync('pyftsubset', [join(FONTS, `${face}.ttf`), ...options], { stdio: 'pipe' });
    return put(face.toLowerCase(), 'woff2', readFileSync(out));
}

function fonts() {
    const scratch = mkdtempSync(join(tmpdir(), 'baitfall-font-'));
    try {
        return [font('DejaVuSans', scratch), font('DejaVuSans-Bold', scratch)];
    } finally {
        rmSync(scratch, { recursive: true });
    }
}

function icon(size) {
    return put(
        `icon-${size}`,
        'png',
        packed(execFileSync('rsvg-convert', ['-w', String(size), '-h', String(size), join(here, 'icon/icon.svg')])),
    );
}

async function style(regular, bold) {
    const face = (name, weight) =>
        `@font-face{font-family:"DejaVu Sans";font-weight:${weight};font-display:block;src:url(${name}) format("woff2")}`;
    const sheets = [
        face(regular, 400),
        face(bold, 700),
        read(here, 'src/style/tokens.css'),
        read(here, 'src/style/base.css'),
        read(here, 'src/style/shell.css'),
        read(here, 'src/style/bank.css'),
        read(here, 'src/style/bed.css'),
        read(here, 'src/style/next.css'),
        read(here, 'src/style/rehearse.css'),
        read(here, 'src/style/log.css'),
        read(here, 'src/style/review.css'),
        read(here, 'src/style/copies.css'),
        read(here, 'src/style/plan.css'),
        read(here, 'src/style/kit.css'),
        read(here, 'src/style/settings.css'),
        read(here, 'src/style/print.css'),
        read(root, 'core/picture/picture.css'),
    ];
    const small = await esbuild.transform(sheets.join('\n'), { loader: 'css', minify: true });
    return put('style', 'css', small.code);
}

function manifest(icons) {
    const text = JSON.stringify({
        id: './',
        name: 'Baitfall',
        short_name: 'Baitfall',
        description: 'What happens to your feed, from the pot to the bottom. Works offline.',
        lang: 'en',
        start_url: './',
        scope: './',
        display: 'standalone',
        background_color: '#f4f7f6',
        theme_color: '#f4f7f6',
        icons: [
            { src: icons.icon192, sizes: '192x192', type: 'image/png', purpose: 'any' },
            { src: icons.icon512, sizes: '512x512', type: 'image/png', purpose: 'any' },
            { src: icons.icon512, sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
    });
    return put('baitfall', 'webmanifest', text);
}

/** What the page is made of besides our own, each with its licence. */
function licences() {
    const packages = (name) => `/usr/share/doc/${name}/copyright`;
    return [
        ['Baitfall', join(root, 'LICENSE')],
        ['preact', join(here, 'node_modules/preact/LICENSE')],
        ['DejaVu fonts, a part of their letters', packages('fonts-dejavu-core')],
        ['jsmn, inside the WebAssembly modules', packages('libjsmn-dev')],
        ['wasi-libc, its memory and string functions inside the WebAssembly modules', packages('wasi-libc')],
    ]
        .map(([what, path]) => `${what}\n${'='.repeat(what.length)}\n\n${read(path)}`)
        .join('\n\n');
}

async function build() {
    const [regular, bold] = fonts();
    const icons = { icon: put('icon', 'svg', read(here, 'icon/icon.svg')), icon192: icon(192), icon512: icon(512) };
    const modules = Object.fromEntries(
        ['answer', 'answer-simd', 'journal', 'journal-simd'].map((name) => [
            name.replace('-', '_').toUpperCase(),
            put(name, 'wasm', read(option.wasm, `${name}.wasm`)),
        ]),
    );
    const workers = put('workers', 'js', await worker('background/workers.ts', modules));
    const addresses = { WORKER: workers, RECORD_WORKER: `${workers}?record`, BELIEF_WORKER: `${workers}?belief` };
    const day = put('invented-day', 'txt', read(root, 'examples/withy-pool/spring-day.journal.jsonl'));
    const [app, shared, ...more] = await scripts({ ...addresses, INVENTED_DAY: day });
    if (!shared || more.length > 0) throw new Error('The first opening is two scripts.');

    const names = { csp: CSP, ...icons, style: await style(regular, bold), manifest: manifest(icons), app, shared };
    const index = fill(read(here, 'index.html').toString(), names);
    const version = hash(index + [...files.keys()].join());
    const kept = ['./', ...files.keys()].filter((name) => !name.endsWith('.wasm')); // and the modules that fit
    files.set('index.html', index);
    files.set('service.js', await worker('background/service.ts', { FILES: kept, VERSION: version, ...modules }));
    files.set('licences.txt', licences());

    mkdirSync(option.out, { recursive: true });
    for (const old of readdirSync(option.out)) rmSync(join(option.out, old), { recursive: true });
    for (const [name, bytes] of files) writeFileSync(join(option.out, name), bytes);
    for (const [name, bytes] of files)
        if (PACKS.test(name)) writeFileSync(join(option.out, `${name}.gz`), gzipSync(bytes, { level: 9, memLevel: 9 }));
    execFileSync(join(root, 'scripts/zip'), [`${option.out}.zip`, option.out]);
    for (const [name, bytes] of files) console.log(`${String(bytes.length).padStart(8)}  ${name}`);
}

await build();

// The journal behind the module's exports, without a browser: room, lines, questions, and memory that grows.
import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import test from 'node:test';

const ROOT = new URL('../../', import.meta.url);
const NEW = 0;
const KNOWN = 1;
const CLASH = 2;
const E_SPACE = -5; // status.h

async function coreModule() {
    const folder = process.env.BF_PAGE;
    const name = (await readdir(folder)).find((one) => /^journal-[0-9a-f]+\.wasm$/.test(one));
    const bytes = await readFile(join(folder, name));
    const { instance } = await WebAssembly.instantiate(bytes, {});
    const core = instance.exports;
    core._initialize?.();
    // memory.buffer is looked at anew each time: it changes when memory grows.
    const put = (text, at = 0) => {
        const utf8 = new TextEncoder().encode(text);
        new Uint8Array(core.memory.buffer).set(utf8, core.in_at() + at);
        return utf8.length;
    };
    const out = () => JSON.parse(new TextDecoder().decode(new Uint8Array(core.memory.buffer, core.out_at(), core.out_n())));
    return {
        core,
        out,
        take: (line) => core.journal_take(put(line)),
        ask: (question, request) => {
            const n = put(question);
            return core.ask(n, put(JSON.stringify(request), n));
        },
    };
}

/** The lines of the invented journal that the hash is made over. */
async function inventedLines() {
    const text = await readFile(new URL('tests/hash/requests.tsv', ROOT), 'utf8');
    return text
        .split('\n')
        .map((line) => line.split('\t'))
        .filter(([command]) => command === 'take')
        .map(([, line]) => line);
}

test('lines are taken once, a clash is told, what is refused says why', async () => {
    const { core, take, out } = await coreModule();
    const [first, second] = await inventedLines();
    assert.equal(core.journal_room(100, 100_000), 0);
    assert.equal(take(first), NEW);
    assert.equal(take(first), KNOWN);
    assert.equal(take(second), NEW);
    assert.equal(take(second.replace('"pm_s":5', '"pm_s":6')), CLASH);
    assert.ok(take(second.replace('"v":1', '"v":3')) < 0);
    assert.equal(out().error.field, 'v');
    assert.ok(take('{') < 0);
    assert.match(out().error.text, /^The line is not well-formed/);
});

test('a journal that is full says so, and with more room takes all lines', async () => {
    const { core, take, ask, out } = await coreModule();
    const lines = await inventedLines();
    assert.equal(core.journal_room(20, 1 << 20), 0);
    const taken = lines.map(take);
    assert.equal(taken.filter((status) => status === NEW).length, 20);
    assert.ok(taken.slice(20).every((status) => status === E_SPACE));
    const before = core.memory.buffer.byteLength;
    assert.equal(core.journal_room(50_000, 16 << 20), 0);
    assert.ok(core.memory.buffer.byteLength > before);
    assert.ok(lines.map(take).every((status) => status === NEW));
    assert.equal(ask('log', { most: 1000 }), 0);
    assert.ok(out().n > 30);
    assert.ok(out().rows.every((row, i, rows) => !i || row.at <= rows[i - 1].at));
});

test('a question leaves the journal as it was, a new room is empty', async () => {
    const { core, take, ask, out } = await coreModule();
    const lines = await inventedLines();
    core.journal_room(1000, 1 << 20);
    lines.forEach(take);
    ask('log', {});
    const log = out();
    for (const question of ['bank', 'review', 'season']) assert.equal(ask(question, { now: '2025-03-29T12:00:00Z' }), 0);
    assert.ok(ask('weather', {}) > 0);
    assert.ok(ask('log', { most: 0 }) > 0);
    ask('log', {});
    assert.deepEqual(out(), log);
    assert.ok(lines.map(take).every((status) => status === KNOWN));
    core.journal_room(10, 10_000);
    ask('log', {});
    assert.equal(out().n, 0);
});

test('more room than there is is refused', async () => {
    const { core } = await coreModule();
    assert.equal(core.journal_room(2_000_000_000, 1000), 1);
    assert.equal(core.journal_room(-1, 1000), 1);
    assert.equal(core.journal_room(10, 0xffff_ffff), 1);
    assert.equal(core.journal_room(10, 10_000), 0);
});

test('the journal as a table: every event a row, crossed-out ones marked', async () => {
    const { core, take } = await coreModule();
    const lines = await inventedLines();
    core.journal_room(1000, 1 << 20);
    lines.forEach(take);
    const row = (i) => {
        assert.equal(core.journal_row(i), 0);
        return new TextDecoder().decode(new Uint8Array(core.memory.buffer, core.out_at(), core.out_n())).trim().split(',');
    };
    const head = row(-1);
    assert.equal(core.journal_n(), lines.length);
    const events = lines.map((line) => JSON.parse(line));
    const crossed = new Set(events.filter((event) => event.kind === 'cross').map((event) => event.of));
    assert.ok(crossed.size > 0);
    events.forEach((event, i) => {
        const cells = row(i);
        assert.equal(cells[head.indexOf('id')], event.id);
        assert.equal(cells[head.indexOf('crossed')], crossed.has(event.id) ? '1' : '0');
    });
});

// The record of this browser, as the screens use it: log something, ask about everything, hear of changes.
//
//   events     line.ts     what a line is
//   time       clock.ts    instants that nobody reorders by setting a clock
//   medium     store.ts    IndexedDB; keeper.ts writes in order, holds what cannot be written, tries again; aside.ts keeps what
//                          is held when the page ends
//   answers    the record worker (background/record.ts) holds all lines in a core of its own
//   here       puts them together; other windows of this browser hear of new lines at once (BroadcastChannel)
//
// An entry counts only once it is stored: log() returns at once, `stored` resolves when it is on the medium.
import { Desk } from '../desk';
import { answerIn } from '../questions';
import { leftAside, putAside } from './aside';
import type { Bank } from './answers';
import { Clock } from './clock';
import { Keeper, type KeeperState } from './keeper';
import { LIVE_PM_S, eventOf, hexOf, instant, lineOf, type Body, type Kind, type RecordEvent } from './line';
import { Store } from './store';

declare const RECORD_WORKER: string;

type RecordQuestion = { lines: string[] } | { question: string; request: string } | { check: string } | { table: true };

const CORRECTIONS: readonly Kind[] = ['cross', 'restore', 'fix'];
/** Sessions that are looked through for one that is open. */
const MOST_OPEN = 5;

export interface Entry {
    event: RecordEvent;
    stored: Promise<void>; // resolves once it is on the medium and counted
}

export interface LogOptions {
    of?: string; // cross, restore, fix: the event meant
    session?: string; // not given: the open session
    atMs?: number; // not given: now
    pm_s?: number;
}

const journalDesk = () => new Desk<RecordQuestion, { answer: string }>(RECORD_WORKER);

/** The device's number once more, for a start at which the store does not open. */
const DEV_KEY = 'baitfall.dev';

/** The jump of the clock that was entered last, and how long another like it counts as the same one. */
const JUMP_KEY = 'baitfall.jump';
const SAME_JUMP_MS = 10_000;

export class Recorder {
    readonly store = new Store();
    readonly run = hexOf(4);
    dev = localStorage.getItem(DEV_KEY) ?? hexOf(4); // until the store has told the one it keeps
    /** How it stands now; undefined until the first answer. */
    bank: Bank | undefined;
    /** The instant that `bank` is of, on the scale of now(). */
    bankMs = 0;
    /** Why no question can be answered; empty when all is well. Entries are stored all the same. */
    fault = '';
    /** Entered in this window, in order, until listeners have heard of a `bank` that has it. */
    pending: readonly RecordEvent[] = [];

    /** The journal's worker. On a device that was here before it starts at once; else with the first line or question: the first
     * answer to a stranger does not wait for its module, which weighs more than all that answer needs. */
    private started = localStorage.getItem(DEV_KEY) === null ? undefined : journalDesk();
    private readonly keeper = new Keeper(
        this.store,
        () => {
            putAside(this.run, this.keeper.state().held.map(lineOf));
            this.say();
        },
        (events) => void this.take(events.map(lineOf)),
        (events) => void this.told(events),
    );
    private readonly windows = new BroadcastChannel('baitfall.record');
    private readonly listeners = new Set<() => void>();
    private readonly clock = new Clock();
    private readonly jumped = new Map<string, number>(); // by session: how far this device's clock has been set, ms
    private readonly taken = new Set<string>(); // ids of the entries that the journal has been sent
    private heldInBank: RecordEvent[] = [];
    private readonly opened = new Map<string, number>(); // by session: when it was opened, ms
    private readonly own = new Set<string>(); // sessions in which this device has entered something
    private readonly noted = new Set<string>(); // clock events that are in `jumped`
    private unread = ''; // why what is stored could not be read yet
    private seq = 0;
    private nChanges = 0;
    private isAsking = false;
    private isStale = false;
    private counted: Promise<void> = Promise.resolve();

    /** Reads everything that is stored. What cannot be read now is read once the store opens. */
    static async start(): Promise<Recorder> {
        const recorder = new Recorder();
        recorder.windows.onmessage = ({ data }: MessageEvent<string[] | null>) => {
            if (data) void recorder.take(data);
            // This browser is being forgotten by another window; presses that are only held here must not go with it.
            else if (recorder.keeping.held.length === 0) location.replace('about:blank');
        };
        recorder.watchVisibility();
        await recorder.load();
        localStorage.setItem(DEV_KEY, recorder.dev);
        recorder.recover();
        if (recorder.started) await recorder.refresh(); // by a clock that knows what was entered last
        return recorder;
    }

    private get desk() {
        return (this.started ??= journalDesk());
    }

    /** Counts up whenever something changed that an answer may depend on. */
    get version(): number {
        return this.nChanges;
    }

    get keeping(): KeeperState {
        const state = this.keeper.state();
        return { ...state, fault: state.fault || this.unread };
    }

    /** Held entries that the counts of `bank` hold already: they are not stored, and must not count as if they were. */
    get heldCounted(): RecordEvent[] {
        const held = this.keeper.state().held;
        return this.heldInBank.filter((event) => held.includes(event));
    }

    /** The open session's id. */
    get live(): string | undefined {
        return this.bank?.is_open ? this.bank.session?.id : undefined;
    }

    onChange(listener: () => void): () => void {
        this.listeners.add(listener);
        return () => this.listeners.delete(listener);
    }

    /** Enters something. `open` starts a session of its own; everything else goes into the one named or open. */
    log(kind: Kind, body: Body = {}, options: LogOptions = {}): Entry {
        const id = hexOf(16);
        const session = kind === 'open' ? id : (options.session ?? this.live);
        if (!session) throw new Error('No session is open.');
        if (kind === 'open') this.clock.agree();
        else if (kind !== 'clock') this.watchClock(session);
        const now = this.clock.now();
        const event: RecordEvent = {
            v: 1,
            id,
            session,
            dev: this.dev,
            run: this.run,
            seq: ++this.seq,
            mono_ms: this.clock.monoMs(),
            kind,
            at: instant(options.atMs ?? now),
            pm_s: options.pm_s ?? LIVE_PM_S,
            rec: instant(now),
            ...(options.of !== undefined && { of: options.of }),
            body,
        };
        this.pending = [...this.pending, event];
        return { event, stored: this.keeper.keep(event).then(() => this.counted) };
    }

    cross(id: string, session?: string): Entry {
        return this.log('cross', {}, { of: id, ...(session && { session }) });
    }

    restore(id: string, session?: string): Entry {
        return this.log('restore', {}, { of: id, ...(session && { session }) });
    }

    /** Now, on the same scale as the journal's corrected instants: since-times are differences of it. */
    now(): number {
        return this.clock.now() - (this.jumped.get(this.live ?? '') ?? 0);
    }

    /** Asks the journal. Rejects with the sentence of the error when there is one. */
    async ask<T>(question: string, request: object): Promise<T> {
        return answerIn<T>((await this.desk.ask({ question, request: JSON.stringify(request) })).answer);
    }

    /** Asks how it stands; questions that come meanwhile are asked once, afterwards. */
    async refresh(): Promise<void> {
        if (this.isAsking) {
            this.isStale = true;
            return;
        }
        this.isAsking = true;
        let counted: RecordEvent[] = [];
        do {
            this.isStale = false;
            if (this.live) this.watchClock(this.live);
            try {
                const isTaken = ({ id }: RecordEvent) => this.taken.has(id);
                const inJournal = this.keeper.state().held.filter(isTaken);
                const isIn = this.pending.filter(isTaken);
                const now = this.now();
                this.bank = await this.standing(now);
                this.bankMs = now;
                this.heldInBank = inJournal;
                counted = isIn;
                this.fault = '';
            } catch (fault) {
                this.fault = (fault as Error).message;
            }
        } while (this.isStale);
        this.isAsking = false;
        this.pending = this.pending.filter((event) => !counted.includes(event));
        this.say();
    }

    /** How it stands. The open session is one in which this device has entered something: one of another device, joined while
     * it was open, is only looked at, and nothing that is pressed here gets into it. */
    private async standing(now: number): Promise<Bank> {
        const at = { now: instant(now), dev: this.dev };
        const newest = await this.ask<Bank>('bank', at);
        if (!newest.is_open || !newest.session || this.own.has(newest.session.id)) return newest;
        const when = (session: string) => this.opened.get(session) ?? 0;
        for (const session of [...this.own].sort((a, b) => when(b) - when(a)).slice(0, MOST_OPEN)) {
            const bank = await this.ask<Bank>('bank', { ...at, session });
            if (bank.is_open) return bank;
        }
        return { ...newest, is_open: false };
    }

    /** Stores lines from outside that are not here yet, and only then takes them into the journal: what does not fit on the
     * medium was never in it, and can be joined again. */
    async join(lines: string[]): Promise<void> {
        await this.store.add(lines.map((line) => ({ id: eventOf(line).id, line })));
        this.windows.postMessage(lines);
        await this.take(lines);
    }

    /** Everything that is stored, one line an event; held entries are in it too. */
    async everything(): Promise<string[]> {
        return [...(await this.store.lines()), ...this.keeping.held.map(lineOf)];
    }

    /** An instant on the scale of corrected ones as this device's clock would have said it: what `at` takes. */
    onClock(ms: number, session: string): number {
        return ms + (this.jumped.get(session) ?? 0);
    }

    /** What the core reads a body as, amounts typed with their unit among it: the same in SI. Rejects with the sentence that
     * says what is wrong with it. */
    async read(kind: Kind, body: Body): Promise<Body> {
        const id = hexOf(16);
        const at = instant(this.clock.now());
        const of = kind === 'fix' ? { of: id } : {};
        const event = { v: 1, id, session: id, dev: this.dev, run: this.run, seq: 0, kind, at, pm_s: 0, rec: at, ...of, body };
        const { answer } = await this.desk.ask({ check: lineOf(event as RecordEvent) });
        return answerIn<RecordEvent>(answer).body;
    }

    /** The whole journal as a table: first its head, then a row an event. */
    async table(): Promise<string> {
        return (await this.desk.ask({ table: true })).answer;
    }

    /** Lets go of the medium and of the workers, in every window: this browser is to be forgotten. */
    end(): void {
        this.windows.postMessage(null);
        this.windows.close();
        this.started?.end();
        this.store.end();
    }

    /** Tries at once to write what is held. */
    retry(): void {
        this.keeper.retry();
        if (this.unread) void this.load();
    }

    private async load(): Promise<void> {
        try {
            const lines = await this.store.lines();
            this.dev = await this.store.dev(this.dev);
            this.unread = '';
            const events = lines.map(eventOf);
            if (lines.length > 0) await this.take(lines);
            const own = events.filter(({ dev, session }) => dev === this.dev && session === this.live);
            const last = own.reduce<RecordEvent | undefined>((a, b) => (a && a.seq > b.seq ? a : b), undefined);
            this.clock.wake(last ? Date.parse(last.rec) : 0);
        } catch (fault) {
            this.unread = (fault as Error).message || (fault as Error).name;
            setTimeout(() => void this.load(), 5000);
            this.say();
        }
    }

    /** What an earlier run could not write before it ended is written now, or held again. */
    private recover(): void {
        for (const { lines, drop } of leftAside())
            void Promise.all(lines.map((line) => this.keeper.keep(eventOf(line)))).then(drop);
    }

    /** Stored by this window: the journal takes them (those that were held it has), other windows hear of them. */
    private told(events: RecordEvent[]): Promise<void> {
        const lines = events.map(lineOf);
        this.windows.postMessage(lines);
        this.counted = this.take(lines);
        return this.counted;
    }

    private async take(lines: string[]): Promise<void> {
        const events = lines.map(eventOf);
        this.noteAll(events);
        for (const { id } of events) this.taken.add(id); // the worker goes in order: any answer asked for from now on has them
        try {
            await this.desk.ask({ lines });
        } catch (fault) {
            this.fault = (fault as Error).message;
        }
        await this.changed();
    }

    private async changed(): Promise<void> {
        this.nChanges++;
        await this.refresh();
    }

    /** Keeps up with the largest seq, and with the jumps of this device's clock. */
    private noteAll(events: RecordEvent[]): void {
        for (const { id, seq, kind, dev, run, session, at, body } of events) {
            if (kind === 'open') this.opened.set(id, Date.parse(at));
            if (dev === this.dev && !CORRECTIONS.includes(kind)) this.own.add(session);
            if (Number.isSafeInteger(seq)) this.seq = Math.max(this.seq, seq); // of a newer version's line perhaps not
            const jump_ms = Number(body?.['jump_s']) * 1000;
            if (kind !== 'clock' || dev !== this.dev || this.noted.has(id) || !Number.isFinite(jump_ms)) continue;
            this.noted.add(id);
            this.jumped.set(session, (this.jumped.get(session) ?? 0) + jump_ms);
            if (run !== this.run) this.clock.agree();
        }
    }

    /** Enters a jump of the wall clock. Windows that are seen side by side find it at the same time: the first enters it. */
    private watchClock(session: string): void {
        const jump_s = this.clock.jumpS();
        if (jump_s === 0) return;
        this.clock.agree();
        const entered = JSON.parse(localStorage.getItem(JUMP_KEY) ?? 'null') as { at: number; jump_s: number } | null;
        const isEntered =
            entered && Math.abs(entered.at - Date.now()) < SAME_JUMP_MS && Math.abs(entered.jump_s - jump_s) < 1;
        if (isEntered) return;
        localStorage.setItem(JUMP_KEY, JSON.stringify({ at: Date.now(), jump_s }));
        const { event } = this.log('clock', { jump_s: Math.round(jump_s * 1000) / 1000 }, { session });
        this.noteAll([event]);
    }

    private watchVisibility(): void {
        const sleep = () => this.clock.sleep();
        const wake = () => {
            this.clock.wake();
            void this.refresh();
        };
        document.addEventListener('visibilitychange', () => (document.hidden ? sleep() : wake()));
        document.addEventListener('freeze', sleep);
        document.addEventListener('resume', wake);
        addEventListener('pageshow', (event) => event.persisted && wake());
    }

    private say(): void {
        for (const listener of this.listeners) listener();
    }
}

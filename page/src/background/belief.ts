// The worker of the bed account: the journal in a core of its own, where the belief is worked out, and its snapshots, from which
// it goes on. Protocol (each message and its reply carry the same id; a reply has `fault` when it failed):
//   { id, lines }          -> { id, taken }              as the record worker
//   { id, question, request, spot } -> { id, answer, from_s }
//                                                        the JSON that the core gives to "bed" or "next", errors included,
//                                                        after what earlier sessions told; from_s: the instant of the
//                                                        session it was worked out from, 0: the beginning
//   { id, lessons: true }  -> { id, sessions: [id] }     the sessions that tell something, newest first
//   { id, lesson: session, kit } -> { id, summary }      what that one told
// What a session tells those after it is worked out once, and kept with the snapshots: as long as its lines are the same, and
// the kit and the core.
import { loadCore, type Asking, type Core, type Moment } from './core';
import { Journal, takeAll } from './journal';
import { JOURNAL_FILE } from './simd';
import { Snapshots, type Kept, type Lesson } from './snapshots';

declare const self: DedicatedWorkerGlobalScope;

interface Request {
    session: string;
    kit?: unknown;
}
type Message = { id: number } & (
    | { lines: string[] }
    | { question: string; request: Request; spot: string }
    | { lessons: true }
    | { lesson: string; kit?: unknown }
);

/** A session that is not there yet: it learns from all. */
const NEXT = '0'.repeat(32);

const snapshots = new Snapshots();

/** A snapshot knows one spot's marks and ledger: each spot has its own. */
const keyOf = (moment: Moment, spot: string): string => `${moment.key} ${spot}`;

/** The latest moment with a snapshot that the question can go on from. */
async function lastKnown(asking: Asking, moments: readonly Moment[], spot: string): Promise<Moment | undefined> {
    for (let n = moments.length; n > 0; ) {
        const found = await snapshots.find<Kept>(moments.slice(0, n).map((moment) => keyOf(moment, spot)));
        if (!found) return undefined;
        if (asking.goOnFrom(found.bytes)) return moments.find((moment) => keyOf(moment, spot) === found.key);
        n = moments.findIndex((moment) => keyOf(moment, spot) === found.key);
    }
    return undefined;
}

interface Believed {
    answer: string;
    from_s: number;
    left?: { key: string; bytes: Uint8Array }; // a snapshot to keep
}

const nLines = new Map<string, number>(); // by session; a line, once entered, never changes

/** What a session told: as kept, else worked out. */
async function lesson(core: Core, session: string, kit: unknown): Promise<unknown> {
    const key = `lesson ${session}`;
    const of = `${JOURNAL_FILE} ${nLines.get(session)} ${JSON.stringify(kit)}`;
    const kept = await snapshots.find<Lesson>([key]);
    if (kept?.of === of) return kept.summary;
    const asking = core.begin('bed', JSON.stringify({ session, summary: true, kit }));
    if (asking.nItems > 0) asking.work(false, undefined);
    const { summary } = JSON.parse(asking.finish()) as { summary?: unknown };
    await snapshots.put({ key, of, summary });
    return summary;
}

async function believe(core: Core, question: string, request: Request, spot: string): Promise<Believed> {
    const learned = [];
    for (const session of core.lessons(request.session)) learned.push(await lesson(core, session, request.kit));
    const asking = core.begin(question, JSON.stringify({ ...request, learned: learned.filter(Boolean) }));
    if (asking.nItems === 0) return { answer: asking.finish(), from_s: 0 };
    const moments = asking.moments();
    const known = await lastKnown(asking, moments, spot);
    const last = moments.at(-1);
    const saveAt = last !== undefined && last.t_s > (known?.t_s ?? 0) ? last : undefined;
    const bytes = asking.work(known !== undefined, saveAt?.t_s);
    return {
        answer: asking.finish(),
        from_s: known?.t_s ?? 0,
        ...(saveAt && bytes && { left: { key: keyOf(saveAt, spot), bytes } }),
    };
}

async function reply(message: Message, started: Promise<{ core: Core; journal: Journal }>): Promise<void> {
    const { id } = message;
    try {
        const { core, journal } = await started;
        if ('lines' in message) {
            const all = takeAll(journal, message.lines);
            for (const { session } of all.fresh.map((line) => JSON.parse(line) as { session: string }))
                nLines.set(session, (nLines.get(session) ?? 0) + 1);
            return self.postMessage({ id, ...all });
        }
        if ('lessons' in message) return self.postMessage({ id, sessions: core.lessons(NEXT) });
        if ('lesson' in message)
            return self.postMessage({ id, summary: await lesson(core, message.lesson, message.kit) });
        const { answer, from_s, left } = await believe(core, message.question, message.request, message.spot);
        self.postMessage({ id, answer, from_s });
        if (left) await snapshots.keep(left.key, left.bytes);
    } catch (fault) {
        self.postMessage({ id, fault: String(fault) });
    }
}

export function startBelief(): void {
    const started = loadCore().then((core) => ({ core, journal: new Journal(core) }));
    let queue = Promise.resolve();
    self.onmessage = (event: MessageEvent<Message>) => {
        queue = queue.then(() => reply(event.data, started));
    };
}

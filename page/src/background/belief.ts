// The worker of the bed account: the journal in a core of its own, where the belief is worked out, and its snapshots, from which
// it goes on. Protocol (each message and its reply carry the same id; a reply has `fault` when it failed):
//   { id, lines }          -> { id, taken }              as the record worker
//   { id, request, spot }  -> { id, answer, from_s }     the JSON that the core gives to "bed", errors included; from_s: the
//                                                        instant of the session it was worked out from, 0: the beginning
import type { Asking, Core, Moment } from './core';
import { fetchCore } from './fetch';
import { Journal, takeAll } from './journal';
import { Snapshots } from './snapshots';

declare const self: DedicatedWorkerGlobalScope;

type Message = { id: number } & ({ lines: string[] } | { request: string; spot: string });

const snapshots = new Snapshots();

/** A snapshot knows one spot's marks and ledger: each spot has its own. */
const keyOf = (moment: Moment, spot: string): string => `${moment.key} ${spot}`;

/** The latest moment with a snapshot that the question can go on from. */
async function lastKnown(asking: Asking, moments: readonly Moment[], spot: string): Promise<Moment | undefined> {
    for (let n = moments.length; n > 0; ) {
        const found = await snapshots.find(moments.slice(0, n).map((moment) => keyOf(moment, spot)));
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

async function believe(core: Core, request: string, spot: string): Promise<Believed> {
    const asking = core.begin('bed', request);
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

const started = fetchCore().then((core) => ({ core, journal: new Journal(core) }));

async function reply(message: Message): Promise<void> {
    const { id } = message;
    try {
        const { core, journal } = await started;
        if ('lines' in message) return self.postMessage({ id, ...takeAll(journal, message.lines) });
        const { answer, from_s, left } = await believe(core, message.request, message.spot);
        self.postMessage({ id, answer, from_s });
        if (left) await snapshots.keep(left.key, left.bytes);
    } catch (fault) {
        self.postMessage({ id, fault: String(fault) });
    }
}

let queue = Promise.resolve();
self.onmessage = (event: MessageEvent<Message>) => {
    queue = queue.then(() => reply(event.data));
};

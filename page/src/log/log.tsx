// The Log: what was entered, newest first, to be put right, crossed out, put back; and what was missed, to be added.
//   rows.tsx   the entries            sheet.tsx  one entry, fields.ts what can be typed of it, moment.ts when it was
//   keep.ts    from sheet to event    draft.ts   sheets that are not finished        corrections.tsx  what was put right
//   twins.tsx  the same fish twice?   live.tsx   FEED and RIG IN, which never wait
import { useState } from 'preact/hooks';
import { preset } from '../bank/acts';
import { Frame, Waits, type Tab } from '../frame';
import type { Bank, Log, Row } from '../record/answers';
import { useAsked, useRecorder } from '../record/hooks';
import { instant, type Body, type Kind } from '../record/line';
import { go } from '../route';
import type { Setup } from '../setup';
import { useShown } from '../shown';
import { addKey, draftOfRow, draftToAdd, isTouched, useDrafts, type Draft } from './draft';
import { LiveBar } from './live';
import { clockText } from './moment';
import { Rows } from './rows';
import { Sheet } from './sheet';
import { Twins } from './twins';

const PAGE_ROWS = 100;
const HOUR_MS = 3_600_000;
const LANES = [
    ['', 'All'],
    ['feed', 'Feed'],
    ['bites', 'Bites'],
    ['fish', 'Fish'],
    ['nets', 'Nets'],
    ['water', 'Water'],
    ['notes', 'Notes'],
] as const;

/** What can be added: its word, its kind, what it starts with. */
const TO_ADD: readonly (readonly [word: string, kind: Kind, body?: Body])[] = [
    ['Fish', 'lift', { outcome: 'landed' }],
    ['Missed', 'lift', { outcome: 'missed' }],
    ['Lost', 'lift', { outcome: 'lost' }],
    ['Touch', 'touch'],
    ['Foul', 'lift', { outcome: 'foul' }],
    ['Nothing', 'lift', { outcome: 'nothing' }],
    ['Feed', 'feed'],
    ['Rig in', 'lower'],
    ['Net', 'net'],
    ['Water', 'water'],
    ['Depth', 'plumb'],
    ['Bait', 'box'],
    ['Look', 'look', { eye: 'right' }],
    ['Note', 'note'],
];

function AddList({ onAdd }: { onAdd: (word: string, kind: Kind, body?: Body) => void }) {
    return (
        <div class="add-list" role="group" aria-label="What to add">
            {TO_ADD.map(([word, kind, body]) => (
                <button type="button" key={word} onClick={() => onAdd(word, kind, body)}>
                    {word}
                </button>
            ))}
        </div>
    );
}

function Unfinished({ drafts, onOpen, onDrop }: {
    drafts: readonly Draft[];
    onOpen: (draft: Draft) => void;
    onDrop: (draft: Draft) => void;
}) {
    if (drafts.length === 0) return null;
    return (
        <section aria-label="Not finished">
            <h2>Not finished</h2>
            <ul class="rows">
                {drafts.map((draft) => {
                    const name = draft.of ? `${draft.word} ${clockText(draft.heldMs, draft.eastMin)}` : draft.word;
                    return (
                        <li key={draft.key}>
                            <span class="what">{name}</span>
                            <span class="pair">
                                <button type="button" onClick={() => onOpen(draft)}>
                                    go on<span class="hide"> with {name}</span>
                                </button>
                                <button type="button" onClick={() => onDrop(draft)}>
                                    drop<span class="hide"> what was typed for {name}</span>
                                </button>
                            </span>
                        </li>
                    );
                })}
            </ul>
        </section>
    );
}

interface LogScreenProps {
    setup: Setup;
    tabs: readonly Tab[];
}

export function LogScreen({ setup, tabs }: LogScreenProps) {
    const recorder = useRecorder();
    const shown = useShown(recorder);
    const session = recorder.live ?? shown ?? recorder.bank?.session?.id;
    if (!session)
        return (
            <Frame title="Log" below="No session yet" shown="log" tabs={tabs}>
                <p class="lead">No session yet. What you log at the peg is listed here.</p>
            </Frame>
        );
    return <SessionLog key={session} session={session} setup={setup} tabs={tabs} />;
}

function SessionLog({ session, setup, tabs }: LogScreenProps & { session: string }) {
    const recorder = useRecorder();
    const isLive = recorder.live === session;
    const [lane, setLane] = useState('');
    const [page, setPage] = useState(0);
    const [isAdding, setIsAdding] = useState(false);
    const [openKey, setOpenKey] = useState<string>();
    const [said, setSaid] = useState('');
    const { drafts, put, drop } = useDrafts(recorder);
    const { answer: log, fault } = useAsked<Log>('log', {
        session,
        most: PAGE_ROWS,
        before: page * PAGE_ROWS,
        ...(lane && { lane }),
    });
    const { answer: bank, fault: bankFault } = useAsked<Bank>('bank', { session, dev: recorder.dev });

    const open = drafts.find(({ key, session: own }) => key === openKey && own === session);
    const unfinished = drafts.filter((one) => one.session === session && isTouched(one) && one !== open);
    const show = (draft: Draft) => {
        put(draft);
        setOpenKey(draft.key);
        setIsAdding(false);
        setSaid('');
        scrollTo(0, 0);
    };
    const openRow = (row: Row) =>
        show(drafts.find(({ key }) => key === row.id) ?? draftOfRow(row, session, setup.pot_m3));
    const startOf = (kind: Kind, body: Body): Body => {
        if (kind === 'feed') return preset(bank?.last_feed, setup);
        if (kind === 'net') return { net: bank?.net ?? 1 };
        return body;
    };
    /** Now in the open session; of one that is over, its end. */
    const now = () => (isLive || !bank?.session?.closed ? recorder.now() : Date.parse(bank.session.closed));
    const add = (word: string, kind: Kind, body: Body = {}) =>
        show(
            drafts.find(({ key }) => key === addKey(word, session)) ??
                draftToAdd(kind, word, session, now(), startOf(kind, body)),
        );
    const catchUp = () => {
        const to = now();
        add('Catch-up', 'tally', { from: instant(to - HOUR_MS), to: instant(to) });
    };
    const close = () => {
        if (open && !isTouched(open)) drop(open.key);
        setOpenKey(undefined);
    };
    const kept = (draft: Draft, words: string) => {
        drop(draft.key);
        setOpenKey(undefined);
        setSaid(words);
        if (draft.kind === 'close') go('review');
    };
    const crossOut = (row: Row) => {
        const entry = row.is_crossed ? recorder.restore(row.id, session) : recorder.cross(row.id, session);
        const words = row.is_crossed ? 'put back' : 'crossed out';
        void entry.stored.then(() => setSaid(`${row.word} ${row.at_text} ${words}.`));
    };

    const n = log?.n ?? 0;
    const last = Math.max(0, Math.ceil(n / PAGE_ROWS) - 1);
    const { fault: notSaved, held } = recorder.keeping;
    const peg = bank?.session?.peg;
    const count = lane ? `${n} of its lane` : `${n} ${n === 1 ? 'entry' : 'entries'}`;
    const below = `${peg ? `Peg ${peg}. ` : ''}${count}, ${notSaved ? `${held.length} not saved` : 'all stored'}`;
    return (
        <Frame title="Log" below={below} shown="log" tabs={tabs}>
            {!((log || fault) && (bank || bankFault)) && <Waits />}
            <div class={open ? 'log with-sheet' : 'log'}>
                {open && (
                    <Sheet
                        key={open.key}
                        draft={open}
                        species={setup.species}
                        onChange={put}
                        onKept={kept}
                        onClose={close}
                    />
                )}
                <div class="log-acts">
                    <div class="acts">
                        <button type="button" aria-expanded={isAdding} onClick={() => setIsAdding(!isAdding)}>
                            Add missed
                        </button>
                        <button type="button" onClick={catchUp}>
                            Catch up
                        </button>
                        <button type="button" onClick={() => go('typeup')}>
                            Type up a card
                        </button>
                        {isLive && (
                            <button type="button" onClick={() => add('End', 'close')}>
                                End session
                            </button>
                        )}
                    </div>
                    {isAdding && <AddList onAdd={add} />}
                    <p class="said" role="status">
                        {said}
                    </p>
                    {fault && (
                        <p class="caution" role="alert">
                            <b>The log cannot be shown.</b> Everything entered is kept. {fault}
                        </p>
                    )}
                    <Unfinished drafts={unfinished} onOpen={show} onDrop={({ key }) => drop(key)} />
                    <Twins session={session} twins={bank?.same_fish ?? []} onSaid={setSaid} />
                    <div class="pick lanes" role="group" aria-label="Which entries">
                        {LANES.map(([word, name]) => (
                            <button
                                type="button"
                                key={word}
                                aria-pressed={lane === word}
                                onClick={() => {
                                    setLane(word);
                                    setPage(0);
                                }}
                            >
                                {name}
                            </button>
                        ))}
                    </div>
                </div>
                <div class="log-entries">
                    <section aria-label="Entries, newest first">
                        {log && n === 0 && <p class="lead">Nothing here yet.</p>}
                        {log && <Rows rows={log.rows} dev={recorder.dev} onOpen={openRow} onCross={crossOut} />}
                    </section>
                    {last > 0 && (
                        <nav class="pages" aria-label="Pages of the log">
                            <button type="button" disabled={page === 0} onClick={() => setPage(page - 1)}>
                                Newer
                            </button>
                            <span>
                                {page * PAGE_ROWS + 1}{'\u2013'}{Math.min(n, (page + 1) * PAGE_ROWS)} of {n}
                            </span>
                            <button type="button" disabled={page >= last} onClick={() => setPage(page + 1)}>
                                Older
                            </button>
                        </nav>
                    )}
                </div>
            </div>
            {isLive && <LiveBar setup={setup} />}
        </Frame>
    );
}

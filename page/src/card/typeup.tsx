// Type up a card: the tallies of a paper card, half hour by half hour, as coarse entries. They say no more than the card did:
// each is good to its half hour.
import { useEffect, useState } from 'preact/hooks';
import { preset } from '../bank/acts';
import { Frame, type Tab } from '../frame';
import type { Bank } from '../record/answers';
import { useAsked, useRecorder } from '../record/hooks';
import { instant, type RecordEvent } from '../record/line';
import { go } from '../route';
import type { Setup } from '../setup';
import { pick, useShown } from '../shown';
import { Stepper } from '../stepper';
import { faultWords } from '../log/fields';
import { HALF_MS, HALF_PM_S, MOST_HALVES, TALLIES, cardStartMs, cellKey, halvesOf, logCard, type Card } from './halves';

const KEY = 'card';
const two = (n: number) => String(n).padStart(2, '0');

function newCard(nowMs: number, bait: string): Card {
    const now = new Date(nowMs);
    const day = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
    return { day, from: '09:00', nHalves: 10, venue: '', peg: '', bait, cells: {} };
}

/** The card of a session begins with the half hour that the session was opened in. */
function cardOf(bank: Bank, nowMs: number, bait: string): Card {
    if (!bank.session?.opened) return newCard(nowMs, bait);
    const opened = Date.parse(bank.session.opened);
    const first = Math.floor(opened / HALF_MS) * HALF_MS;
    const lastMs = bank.session.closed ? Date.parse(bank.session.closed) : Math.min(nowMs, opened + 10 * HALF_MS);
    const text = instant(first);
    return {
        ...newCard(nowMs, bank.last_feed?.bait ?? bait),
        day: text.slice(0, 10),
        from: text.slice(11, 16),
        nHalves: Math.min(MOST_HALVES, Math.max(2, Math.ceil((lastMs - first) / HALF_MS))),
    };
}

const isEmpty = ({ cells }: Card) => Object.values(cells).every((text) => text.trim() === '');

function HalfHour({ card, half, onCell }: { card: Card; half: number; onCell: (key: string, text: string) => void }) {
    const fromMs = cardStartMs(card) + half * HALF_MS;
    const clock = (ms: number) => (Number.isNaN(ms) ? '' : instant(ms).slice(11, 16));
    const name = `${clock(fromMs)}\u2013${clock(fromMs + HALF_MS)}`;
    return (
        <div class="half" role="group" aria-label={name}>
            <b>{name}</b>
            {TALLIES.map(([key, word]) => (
                <label key={key}>
                    <span class="name">{word}</span>
                    <input
                        inputMode="numeric"
                        maxLength={4}
                        value={card.cells[cellKey(half, key)] ?? ''}
                        onInput={(event) => onCell(cellKey(half, key), event.currentTarget.value)}
                    />
                </label>
            ))}
        </div>
    );
}

interface Done {
    events: RecordEvent[];
    isBack: boolean; // crossed out again
}

/** What was logged, with the one press that takes it back and the one that puts it there again. */
function DoneLine({ done, onTurn }: { done: Done; onTurn: () => void }) {
    const n = done.events.length;
    const entries = `${n} ${n === 1 ? 'entry' : 'entries'}`;
    return (
        <div class="done">
            <p role="status">{done.isBack ? `Crossed out ${entries}.` : `${entries} added from the card.`}</p>
            <button type="button" onClick={onTurn}>
                {done.isBack ? 'put back' : 'cross out'}
            </button>
        </div>
    );
}

export function TypeUpScreen({ setup, tabs }: { setup: Setup; tabs: readonly Tab[] }) {
    const recorder = useRecorder();
    const shown = useShown(recorder);
    const [isOwnDay, setIsOwnDay] = useState(shown === undefined);
    const [card, setCard] = useState<Card>();
    const [done, setDone] = useState<Done>();
    const [fault, setFault] = useState('');
    const session = isOwnDay ? undefined : shown;
    const { answer: bank } = useAsked<Bank>('bank', session ? { session } : {});
    const isReady = bank !== undefined;

    useEffect(() => {
        if (!isReady) return;
        const fresh = session ? cardOf(bank, recorder.now(), setup.bait) : newCard(recorder.now(), setup.bait);
        recorder.store.draft<Card>(KEY).then(
            (kept) => setCard((now) => (now && !isEmpty(now) ? now : kept ?? fresh)),
            () => setCard((now) => now ?? fresh), // the bar "NOT SAVED" tells why
        );
    }, [recorder, isReady, session]);

    const change = (next: Card) => {
        setCard(next);
        setDone(undefined);
        recorder.store.setDraft(KEY, isEmpty(next) ? undefined : next).catch(() => undefined); // as above
    };
    /** The session the card goes into: the one shown, or one of its own around the card. */
    const sessionFor = (own: Card, lastMs: number): { id: string; events: RecordEvent[]; close: () => RecordEvent[] } => {
        if (session) return { id: session, events: [], close: () => [] };
        const { venue, peg } = own;
        const body = { ...(venue.trim() && { venue: venue.trim() }), ...(peg.trim() && { peg: peg.trim() }) };
        const open = recorder.log('open', body, { atMs: cardStartMs(own), pm_s: HALF_PM_S }).event;
        const close = () => [
            recorder.log('close', {}, { session: open.id, atMs: lastMs + HALF_MS, pm_s: HALF_PM_S }).event,
        ];
        return { id: open.id, events: [open], close };
    };
    const commit = async (own: Card) => {
        setFault('');
        try {
            const halves = halvesOf(own);
            const last = halves.at(-1);
            if (!last) throw new Error('Nothing is typed yet.');
            const put = await recorder.read('feed', { ...preset(bank?.last_feed, setup), bait: own.bait.trim() });
            const { id, events, close } = sessionFor(own, last.fromMs);
            const all = [...events, ...logCard(recorder, halves, id, put), ...close()];
            change({ ...own, cells: {} });
            setDone({ events: all, isBack: false });
            pick(id);
        } catch (reason) {
            setFault(faultWords('feed', (reason as Error).message));
        }
    };
    const turn = () => {
        if (!done) return;
        for (const { id, session: own } of done.events)
            if (done.isBack) recorder.restore(id, own);
            else recorder.cross(id, own);
        setDone({ ...done, isBack: !done.isBack });
    };

    const where = bank?.session?.peg ? `Peg ${bank.session.peg}, ` : '';
    const below = session ? `A card. ${where}this session` : 'A card of a day of its own';
    return (
        <Frame title="Type up" below={below} shown="typeup" tabs={tabs}>
            {card && (
                <div class="typeup">
                    {done && <DoneLine done={done} onTurn={turn} />}
                    {shown !== undefined && (
                        <div class="pick" role="group" aria-label="Which session">
                            <button type="button" aria-pressed={!isOwnDay} onClick={() => setIsOwnDay(false)}>
                                This session
                            </button>
                            <button type="button" aria-pressed={isOwnDay} onClick={() => setIsOwnDay(true)}>
                                A day of its own
                            </button>
                        </div>
                    )}
                    {bank?.session && session && bank.session.n_events > 1 && (
                        <p class="note">
                            This session has {bank.session.n_events} entries. Type only stretches that were not logged, or
                            they count twice.
                        </p>
                    )}
                    {isOwnDay && (
                        <div class="where">
                            <label class="text">
                                <span class="name">Day</span>
                                <input
                                    type="date"
                                    value={card.day}
                                    onInput={(event) => change({ ...card, day: event.currentTarget.value })}
                                />
                            </label>
                            <label class="text">
                                <span class="name">Water</span>
                                <input
                                    maxLength={48}
                                    value={card.venue}
                                    onInput={(event) => change({ ...card, venue: event.currentTarget.value })}
                                />
                            </label>
                            <label class="text">
                                <span class="name">Peg</span>
                                <input
                                    maxLength={16}
                                    value={card.peg}
                                    onInput={(event) => change({ ...card, peg: event.currentTarget.value })}
                                />
                            </label>
                        </div>
                    )}
                    <div class="where">
                        <label class="text">
                            <span class="name">From</span>
                            <input
                                maxLength={5}
                                value={card.from}
                                onInput={(event) => change({ ...card, from: event.currentTarget.value })}
                            />
                        </label>
                        <label class="text">
                            <span class="name">Bait fed</span>
                            <input
                                maxLength={48}
                                value={card.bait}
                                onInput={(event) => change({ ...card, bait: event.currentTarget.value })}
                            />
                        </label>
                    </div>
                    <Stepper
                        name="Half hours"
                        less="Half hours fewer"
                        more="Half hours more"
                        isLeast={card.nHalves <= 1}
                        isMost={card.nHalves >= MOST_HALVES}
                        onStep={(by) =>
                            change({ ...card, nHalves: Math.min(MOST_HALVES, Math.max(1, card.nHalves + by)) })
                        }
                    >
                        {card.nHalves}
                    </Stepper>
                    <div class="halves">
                        {Array.from({ length: card.nHalves }, (_, half) => (
                            <HalfHour
                                key={half}
                                card={card}
                                half={half}
                                onCell={(key, text) => change({ ...card, cells: { ...card.cells, [key]: text } })}
                            />
                        ))}
                    </div>
                    {fault && (
                        <p class="caution" role="alert">
                            <b>Not logged yet.</b> {fault} What was typed is kept.
                        </p>
                    )}
                    <p class="note soft">
                        Each half hour becomes one count, each FEED one put-in, all give or take {HALF_PM_S / 60} min.
                    </p>
                    <div class="acts">
                        <button type="button" class="main-act" onClick={() => void commit(card)}>
                            Log the card
                        </button>
                        <button type="button" onClick={() => go('log')}>
                            To the log
                        </button>
                    </div>
                </div>
            )}
        </Frame>
    );
}

// Trial: two feeds fished by turns that a lot decides. Planned here, begun with one line of words in the record, and looked
// back on with all trials of the same two feeds.
import { useEffect, useMemo, useState } from 'preact/hooks';
import { Chips } from '../chips';
import { Frame, Waits, follow, type Tab } from '../frame';
import { loadKit, withKit, type Kit } from '../kit/kit';
import { NoteList } from '../notes';
import type { PlanOffer } from '../plan/answers';
import type { FormValue } from '../plan/fields';
import { FormStepper, NameField } from '../plan/inputs';
import { usePlanOffer } from '../plan/offer';
import type { Values } from '../plan/plan';
import type { Note } from '../questions';
import { useAsked, useRecorder } from '../record/hooks';
import type { Table } from '../review/answers';
import { Sentences, TableBox } from '../review/tables';

interface Told {
    sentences: string[];
    tables: Table[];
    notes: Note[];
}
type Planned = Told & { note: string };
type Found = Told & { trial: object | null };

/** A trial as it is being planned; once begun, when. */
interface Wish {
    plan: Values;
    start?: string;
}
const DRAFT = 'trial';

const FIELDS: readonly FormValue[] = [
    { section: 'trial', key: 'hours', name: 'Hours', unit: 'h', per: 1, step: 0.5 },
    { section: 'trial', key: 'block_s', name: 'One block', unit: 'min', per: 60, step: 5 },
    { section: 'trial', key: 'washout_s', name: 'Dropped at its start', unit: 'min', per: 60, step: 1 },
    { section: 'trial', key: 'bites_per_h', name: 'Bites expected', unit: 'an hour', per: 1, step: 1, start: 15, none: 'As so far' },
    { section: 'trial', key: 'seed', name: 'Number of the lot', unit: '', per: 1, step: 1 },
];

function Notes({ notes }: { notes: readonly Note[] }) {
    return (
        <section class="remarks">
            <NoteList notes={notes} />
        </section>
    );
}

function useWish({ baits }: PlanOffer): { wish: Wish | undefined; put: (wish: Wish) => void } {
    const recorder = useRecorder();
    const [wish, show] = useState<Wish>();
    useEffect(() => {
        const begin = (kept?: Wish) => show(kept ?? { plan: { a: baits[0]?.word, b: baits[1]?.word } });
        recorder.store.draft<Wish>(DRAFT).then(begin, () => begin()); // a store that does not open is told at home
    }, [recorder]);
    const put = (next: Wish) => {
        show(next);
        recorder.store.setDraft(DRAFT, next).catch(() => undefined); // as above
    };
    return { wish, put };
}

/** The first block begins with the line that is entered now. */
function Begin({ wish, note, onBegun }: { wish: Wish; note: string; onBegun: (start: string) => void }) {
    const recorder = useRecorder();
    if (wish.start) return <p role="status">It has begun. To take it back, cross the note out in the log.</p>;
    if (recorder.live === undefined)
        return (
            <>
                <p>It begins in a session: start one, then come back to this screen by way of Review.</p>
                <a class="button main-act" href="#start" onClick={(event) => follow(event, 'start')}>
                    Start at the peg
                </a>
            </>
        );
    return (
        <button type="button" class="main-act" onClick={() => onBegun(recorder.log('note', { note }).event.at)}>
            Begin the first block now
        </button>
    );
}

function PlanTrial({ offer, kit }: { offer: PlanOffer; kit: Kit }) {
    const { wish, put } = useWish(offer);
    return wish ? <PlanSheet offer={offer} kit={kit} wish={wish} put={put} /> : null;
}

function PlanSheet({ offer, kit, wish, put }: { offer: PlanOffer; kit: Kit; wish: Wish; put: (wish: Wish) => void }) {
    const { plan, start } = wish;
    const { answer, fault } = useAsked<Planned>('trial', { plan, ...(start && { start }) });
    const baits = useMemo(() => withKit({ kit }, 'baits', offer.baits), [kit]);
    const change = (changes: Values) => {
        const next = Object.entries({ ...plan, ...changes }).filter(([, value]) => value !== undefined);
        put({ plan: Object.fromEntries(next) }); // another plan is one that has not begun
    };
    return (
        <div class="trial">
            <section class="known" aria-label="The plan">
                {(['a', 'b'] as const).map((side) => (
                    <NameField
                        key={side}
                        name={side === 'a' ? 'One feed' : 'The other'}
                        list={baits}
                        word={String(plan[side])}
                        onChoose={(word) => change({ [side]: word })}
                    />
                ))}
                {FIELDS.map((field) => (
                    <FormStepper key={field.key} field={field} form={offer.form} values={plan} put={change} isFull />
                ))}
            </section>
            <div>
                {fault && (
                    <p class="caution" role="alert">
                        {fault}
                    </p>
                )}
                {answer && !fault && (
                    <>
                        <div class="lead">
                            {answer.sentences.map((sentence) => (
                                <p key={sentence}>{sentence}</p>
                            ))}
                        </div>
                        <p>The line that says so in the record:</p>
                        <p class="trial-line">{answer.note}</p>
                        <div class="trial-begin">
                            <Begin wish={wish} note={answer.note} onBegun={(at) => put({ plan, start: at })} />
                        </div>
                        {answer.tables.map((table) => (
                            <TableBox key={table.name} table={table} />
                        ))}
                        <Notes notes={answer.notes} />
                    </>
                )}
            </div>
        </div>
    );
}

const MEASURES = [
    ['bites', 'Bites'],
    ['fish', 'Fish'],
] as const;

function CameOfIt() {
    const [measure, setMeasure] = useState('bites');
    const [isAlone, setIsAlone] = useState(false);
    const { answer, fault } = useAsked<Found>('trial', { measure, ...(isAlone && { alone: true }) });
    return (
        <section class="answer">
            <h2>What came of it</h2>
            {!answer && !fault && <Waits />}
            {fault && (
                <p class="caution" role="alert">
                    {fault}
                </p>
            )}
            {answer && !answer.trial && <p>No trial in the record yet.</p>}
            {answer?.trial && (
                <>
                    <div class="acts">
                        <Chips label="Counted" isEven choices={MEASURES} chosen={measure} onChoose={setMeasure} />
                        <button type="button" aria-pressed={isAlone} onClick={() => setIsAlone(!isAlone)}>
                            The last day alone
                        </button>
                    </div>
                    <Sentences sentences={answer.sentences} />
                    {answer.tables.map((table) => (
                        <TableBox key={table.name} table={table} />
                    ))}
                    <Notes notes={answer.notes} />
                </>
            )}
        </section>
    );
}

export function TrialScreen({ tabs }: { tabs: readonly Tab[] }) {
    const recorder = useRecorder();
    const { offer, fault } = usePlanOffer();
    const [kit, setKit] = useState<Kit>();
    useEffect(() => void loadKit(recorder).then(setKit, () => setKit({})), [recorder]);
    return (
        <Frame title="Trial" below="Two feeds, by turns drawn by lot" shown="trial" tabs={tabs}>
            <CameOfIt />
            <h2>Plan one</h2>
            {fault && (
                <p class="caution" role="alert">
                    <b>The calculator did not start.</b> {fault}
                </p>
            )}
            {offer && kit && <PlanTrial offer={offer} kit={kit} />}
        </Frame>
    );
}

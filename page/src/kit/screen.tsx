// Kit: the baits, pots and rigs that the angler has, and what was measured of them.
//   kit.ts       the kit and where it lies     measures.ts  what can be measured
//   measure.tsx  one measurement, guided       readings.tsx how readings are taken
import { useEffect, useState } from 'preact/hooks';
import { Frame, type Tab } from '../frame';
import type { PlanOffer } from '../plan/answers';
import { takeIntoDraft } from '../plan/keep';
import { usePlanOffer } from '../plan/offer';
import { useRecorder } from '../record/hooks';
import { capital } from '../words';
import { loadKit, rowsOf, saveKit, withRow, withoutRow, type Kit, type KitRow } from './kit';
import { MEASUREMENTS, THINGS, measurementOf, type Measurement, type Measuring, type Thing } from './measures';
import { MeasureSheet } from './measure';

const DRAFT = 'measure';

/** What was done, and how it is undone. */
interface Done {
    words: string;
    before?: Kit;
}

function useKit(): { kit: Kit | undefined; keep: (kit: Kit) => Promise<void> } {
    const recorder = useRecorder();
    const [kit, show] = useState<Kit>();
    useEffect(() => void loadKit(recorder).then(show, () => show({})), [recorder]); // a store that does not open is told at home
    const keep = async (next: Kit) => {
        await saveKit(recorder, next);
        await takeIntoDraft(recorder, next);
        show(next);
    };
    return { kit, keep };
}

/** The measurement that is going on; it stays as it is when the page is left. */
function useMeasuring() {
    const recorder = useRecorder();
    const [measuring, show] = useState<Measuring>();
    useEffect(() => void recorder.store.draft<Measuring>(DRAFT).then(show, () => undefined), [recorder]);
    const put = (next: Measuring | undefined) => {
        show(next);
        recorder.store.setDraft(DRAFT, next).catch(() => undefined); // a store that does not open is told at home
    };
    return { measuring, put };
}

const titleOf = (offer: PlanOffer, thing: Thing, { id, name }: KitRow) =>
    name ?? capital(offer[THINGS[thing].list].find(({ word }) => word === id)?.title ?? id);

/** "drop test until 2026-11-26": as they were before. */
const measuredWords = ({ was = [] }: KitRow) =>
    was.map(({ by, until }) => `${measurementOf(by)?.name ?? by}, ${until}`).join('; ') || 'As in the catalogue';

interface ListProps {
    thing: Thing;
    kit: Kit;
    offer: PlanOffer;
    onKit: (kit: Kit, words: string) => void;
}

function Things({ thing, kit, offer, onKit }: ListProps) {
    const { list, name } = THINGS[thing];
    const rows = rowsOf(kit, list);
    const free = offer[list].filter(({ word }) => !rows.some(({ id }) => id === word));
    const [chosen, setChosen] = useState('');
    const word = free.some((entry) => entry.word === chosen) ? chosen : (free[0]?.word ?? '');
    return (
        <section>
            <h2>{name}s</h2>
            {rows.length > 0 && (
                <ul class="saved">
                    {rows.map((row) => (
                        <li key={row.id}>
                            <span>
                                <b>{titleOf(offer, thing, row)}</b>
                                <small>{measuredWords(row)}</small>
                            </span>
                            <button
                                type="button"
                                aria-label={`Take out ${titleOf(offer, thing, row)}`}
                                onClick={() => onKit(withoutRow(kit, list, row.id), `${titleOf(offer, thing, row)} is out of the kit.`)}
                            >
                                Take out
                            </button>
                        </li>
                    ))}
                </ul>
            )}
            <div class="add-thing">
                <label class="text">
                    <span class="name">{name} to add</span>
                    <select value={word} onChange={(event) => setChosen(event.currentTarget.value)}>
                        {free.map((entry) => (
                            <option key={entry.word} value={entry.word}>
                                {capital(entry.title)}
                            </option>
                        ))}
                    </select>
                </label>
                <button
                    type="button"
                    aria-label={`Add the ${name.toLowerCase()}`}
                    disabled={!word}
                    onClick={() => onKit(withRow(kit, list, { id: word }), `${titleOf(offer, thing, { id: word })} is in the kit.`)}
                >
                    Add
                </button>
            </div>
        </section>
    );
}

/** The first of the kit, else of the catalogue: it can be stepped on from there. */
function startOf(how: Measurement, kit: Kit, offer: PlanOffer): Measuring {
    const first = ({ list }: (typeof THINGS)[Thing]) => rowsOf(kit, list)[0]?.id ?? offer[list][0]?.word ?? '';
    const of = Object.fromEntries(how.of.map((thing) => [thing, first(THINGS[thing])]));
    return { what: how.what, of, values: how.start, taken: [] };
}

function KitLists({ kit, offer, onKit, onMeasure }: Omit<ListProps, 'thing'> & { onMeasure: (measuring: Measuring) => void }) {
    return (
        <div class="kit">
            <section>
                <h2>Measure at home</h2>
                <div class="jobs">
                    {MEASUREMENTS.map((how) => (
                        <button type="button" key={how.what} onClick={() => onMeasure(startOf(how, kit, offer))}>
                            <b>{how.name}</b>
                            <span>{how.below}</span>
                        </button>
                    ))}
                </div>
            </section>
            <div>
                {(Object.keys(THINGS) as Thing[]).map((thing) => (
                    <Things key={thing} thing={thing} kit={kit} offer={offer} onKit={onKit} />
                ))}
            </div>
        </div>
    );
}

export function KitScreen({ tabs }: { tabs: readonly Tab[] }) {
    const { offer, fault: noOffer } = usePlanOffer();
    const { kit, keep } = useKit();
    const { measuring, put } = useMeasuring();
    const [done, setDone] = useState<Done>({ words: '' });
    const [fault, setFault] = useState('');
    const how = measuring && measurementOf(measuring.what);

    /** @returns whether it is kept */
    const change = async (next: Kit, words: string): Promise<boolean> => {
        try {
            await keep(next);
            setFault('');
            setDone({ words, ...(kit && { before: kit }) });
            return true;
        } catch (reason) {
            setFault(`It could not be kept: ${(reason as Error).message} The kit is as it was.`);
            return false;
        }
    };
    return (
        <Frame title="Kit" below={how ? how.name : 'What you have, measured'} shown="kit" tabs={tabs}>
            {(noOffer || fault) && (
                <p class="caution" role="alert">
                    {noOffer && <b>The calculator did not start.</b>} {noOffer || fault}
                </p>
            )}
            <p class="said" role="status">
                {done.words}
            </p>
            {done.before && !how && (
                <button type="button" onClick={() => done.before && void change(done.before, 'The kit is as it was before.')}>
                    Put it back
                </button>
            )}
            {offer && kit && measuring && how && (
                <MeasureSheet
                    key={how.what}
                    how={how}
                    measuring={measuring}
                    onChange={put}
                    kit={kit}
                    offer={offer}
                    onKeep={async (answer) => {
                        const names = Object.values(answer.kept).join(' and ');
                        if (await change(answer.kit, `Kept as ${names}, the old values with their date.`)) put(undefined);
                    }}
                    onAway={() => put(undefined)}
                />
            )}
            {offer && kit && !how && <KitLists kit={kit} offer={offer} onKit={(next, words) => void change(next, words)} onMeasure={put} />}
        </Frame>
    );
}

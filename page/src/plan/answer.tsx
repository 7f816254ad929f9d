// What a plan comes to: the three readings, the drawings, whose fault a miss is, what is suggested and why, what if, and the
// lists of the evening.
import { useEffect, useState } from 'preact/hooks';
import { Chips } from '../chips';
import { FirstNotes } from '../notes';
import { PictureBox } from '../picture';
import type { Note } from '../questions';
import { Reading, parts } from '../reading';
import { Term, Word } from '../terms';
import { capital } from '../words';
import type { Mend, PlanAnswer, SpotAnswer } from './answers';
import { inScreenWords } from './fields';
import type { Live } from './live';
import type { Plan } from './plan';

const spotIn = (answer: PlanAnswer | undefined, spot: string): SpotAnswer | undefined =>
    answer?.spots.find((own) => own.spot === spot);

/** "Feed down in 12 s (10-15), wait 20 s (16-26), then lower; the bait lies on the bed 7 in 10." */
function sentence({ lay, aim }: SpotAnswer): string {
    const said = (text: string) => {
        const { middle, unit, range } = parts(text);
        return `${middle}\u00a0${unit}${range && ` (${range})`}`;
    };
    const on = aim?.chance ? `; the bait lies on the bed ${aim.chance.text}` : '';
    return lay ? `Feed down in ${said(lay.feed_s.text)}, wait ${said(lay.wait_s.text)}, then lower${on}.` : '';
}

function Spoken({ words }: { words: string | undefined }) {
    const [last, setLast] = useState('');
    useEffect(() => {
        if (words !== undefined) setLast(words);
    }, [words]);
    return (
        <p class="hide" role="status">
            {last}
        </p>
    );
}

/** A chance has no nominal value: it waits for the ranges. */
export const NOT_YET = { text: '\u2013' };

export function Readings({ live, plan, spot, title }: { live: Live<PlanAnswer>; plan: Plan; spot: string; title: string }) {
    const own = spotIn(live.answer, spot);
    const working = { isWorking: live.isWorking };
    return (
        <section class="answer" aria-busy={live.isWorking}>
            <h2>{title}</h2>
            <Spoken words={live.isWorking || !own ? undefined : sentence(own)} />
            {live.fault && (
                <p class="caution" role="alert">
                    {inScreenWords(live.fault, plan.spots.map(({ id, name }) => name ?? id))}
                </p>
            )}
            <div class="reads">
                {own?.lay && (
                    <>
                        <Reading {...working} quantity={own.lay.feed_s} words="feed on the bottom" />
                        <Reading {...working} quantity={own.lay.wait_s} words={<Term name="wait">wait, then lower</Term>} />
                    </>
                )}
                {own?.aim && (
                    <Reading
                        {...working}
                        quantity={own.aim.chance ?? NOT_YET}
                        words={<Term name="n in 10">bait lies on the bed</Term>}
                    />
                )}
            </div>
            {!live.isWorking && own?.rig?.error && <p class="caution">The rig as it is finds no balance: {own.rig.error}.</p>}
            <FirstNotes notes={notesOf(live.answer, spot)} />
        </section>
    );
}

/** The remarks on the plan, and on what is fished at a spot. */
export function notesOf(answer: PlanAnswer | undefined, spot: string): Note[] {
    const own = spotIn(answer, spot);
    return [answer, own?.rig, own?.lay, own?.aim].flatMap((part) => part?.notes ?? []);
}

/** "4 in 10". */
const inTen = (part: number) => (part < 0.05 ? 'under 1 in 10' : `${Math.round(part * 10)} in 10`);
const cm = (metres: number) => `${(metres * 100).toFixed(1).replace(/\.0$/, '').replace('-', '\u2212')}\u00a0cm`;

function MendTable({ mend }: { mend: readonly Mend[] }) {
    return (
        <section>
            <h2>What to mend first</h2>
            <p>
                <Term name="miss">Miss, and what each part of it costs</Term>
            </p>
            <table aria-label="What to mend first">
                <thead>
                    <tr>
                        <th scope="col">What</th>
                        <th scope="col">Part</th>
                        <th scope="col">Gain</th>
                    </tr>
                </thead>
                <tbody>
                    {mend.map(({ input, text, share_frac, gain_m }) => (
                        <tr key={input}>
                            <th scope="row">{text}</th>
                            <td>{inTen(share_frac)}</td>
                            <td>{cm(gain_m)}</td>
                        </tr>
                    ))}
                </tbody>
            </table>
        </section>
    );
}

function Suggested({ own }: { own: SpotAnswer }) {
    const all = own.suggestions ?? [];
    const others = all.filter(({ why_not }) => why_not);
    return (
        <section>
            <h2>Suggested, and why</h2>
            {own.rig && (
                <p>
                    <b>{own.rig.title}.</b>
                </p>
            )}
            <ul class="because">
                {all.map(({ what, choice, because }) => (
                    <li key={what}>
                        <b>
                            <Word>{what}</Word>: {choice}.
                        </b>{' '}
                        {because}
                    </li>
                ))}
            </ul>
            {others.length > 0 && (
                <details>
                    <summary>Why not others</summary>
                    <ul class="because">
                        {others.map(({ what, runner_up, why_not }) => (
                            <li key={what}>
                                <b>
                                    {capital(what)}: {runner_up}.
                                </b>{' '}
                                {why_not}
                            </li>
                        ))}
                    </ul>
                </details>
            )}
        </section>
    );
}

function Chain({ own }: { own: SpotAnswer }) {
    const chain = own.rig?.chain ?? [];
    if (chain.length === 0) return null;
    return (
        <details>
            <summary>What gives first</summary>
            <table aria-label="What gives first">
                <thead>
                    <tr>
                        <th scope="col">Part</th>
                        <th scope="col">Holds</th>
                        <th scope="col">First to give</th>
                    </tr>
                </thead>
                <tbody>
                    {chain.map(({ part, holds_n, gives_first_frac }) => (
                        <tr key={part}>
                            <th scope="row">
                                <Word>{part}</Word>
                            </th>
                            <td>{holds_n.text}</td>
                            <td>{inTen(gives_first_frac)}</td>
                        </tr>
                    ))}
                </tbody>
            </table>
        </details>
    );
}

function WhatIfs({ whole, spot }: { whole: PlanAnswer; spot: string }) {
    const own = (whole.what_if ?? []).filter((one) => one.spot === spot);
    const [chosen, setChosen] = useState('');
    if (own.length === 0) return null;
    return (
        <section>
            <h2>What if</h2>
            <Chips
                label="What if"
                choices={own.map(({ what }) => [what, what])}
                chosen={chosen}
                onChoose={(what) => setChosen(what === chosen ? '' : what)}
            />
            <p class="then" role="status">
                {own.find(({ what }) => what === chosen)?.text}
            </p>
        </section>
    );
}

function List({ title, rows }: { title: string; rows: readonly (readonly [head: string, text: string])[] }) {
    if (rows.length === 0) return null;
    return (
        <section>
            <h2>{title}</h2>
            <table aria-label={title}>
                <tbody>
                    {rows.map(([head, text], i) => (
                        <tr key={i}>
                            <th scope="row">{head}</th>
                            <td>{text}</td>
                        </tr>
                    ))}
                </tbody>
            </table>
        </section>
    );
}

function CarriedRigs({ whole }: { whole: PlanAnswer }) {
    const unknown = whole.unknown_peg;
    if (!unknown) return null;
    return (
        <section>
            <h2>Rigs to carry</h2>
            <ol class="because">
                {unknown.rigs.map(({ title, text, covers }) => (
                    <li key={title + covers}>
                        <b>{title}.</b> {covers}: {text}.
                    </li>
                ))}
            </ol>
            {unknown.notes?.map((note) => <p key={note.code}>{note.text}</p>)}
        </section>
    );
}

const RULES = { kept: 'Kept', broken: 'Broken', look: 'Look' };

/** Of the newest whole answer; while a newer one is worked out it is said to be older. */
export function RigLists({ live, spot }: { live: Live<PlanAnswer>; spot: string }) {
    const { whole, isWorking } = live;
    const own = spotIn(whole, spot);
    if (!whole) return null;
    return (
        <div class="lists as-it-was" aria-busy={isWorking}>
            {own?.aim?.mend && own.aim.mend.length > 0 && <MendTable mend={own.aim.mend} />}
            {own && <Suggested own={own} />}
            {own && <Chain own={own} />}
            <WhatIfs whole={whole} spot={spot} />
        </div>
    );
}

/** The lists of the evening, of the newest whole answer. */
export function Evening({ live: { whole, isWorking } }: { live: Live<PlanAnswer> }) {
    if (!whole) return null;
    const pack = (whole.pack ?? []).map(({ what, name, text }) => [capital(name ? `${what}, ${name}` : what), text] as const);
    return (
        <div class="lists as-it-was" aria-busy={isWorking}>
            <List title="Get ready" rows={(whole.prep ?? []).map(({ at_text, text }) => [at_text, text])} />
            <List title="Pack" rows={pack} />
            <List title="Rules of the water" rows={(whole.rules ?? []).map(({ status, text }) => [RULES[status], text])} />
        </div>
    );
}

/** The section with every step; from above, where all draws are needed, the last one until the next is there. */
export function Drawings({ live, spot }: { live: Live<PlanAnswer>; spot: string }) {
    const newest = spotIn(live.answer, spot)?.pictures;
    const section = newest?.['section'];
    const above = newest?.['above'] ?? spotIn(live.whole, spot)?.pictures?.['above'];
    return (
        <div class="pictures">
            {section && <PictureBox title="In section" picture={section} />}
            {above && (
                <div class="as-it-was" aria-busy={!newest?.['above']}>
                    <PictureBox title="From above" picture={above} />
                </div>
            )}
            {live.whole && (
                <div class="as-it-was" aria-busy={live.isWorking}>
                    <CarriedRigs whole={live.whole} />
                </div>
            )}
        </div>
    );
}

// One measurement, guided: what is made ready, readings taken, and what they come to, which goes into the kit.
import { useMemo, useState } from 'preact/hooks';
import { rememberedChoice } from '../choice';
import type { PlanOffer } from '../plan/answers';
import { DEPTH, TEMPERATURE, formField } from '../plan/fields';
import { FormStepper, NameField } from '../plan/inputs';
import { useNewest } from '../newest';
import { ask, type Answer, type FormField, type Quantity } from '../questions';
import { Reading, range } from '../reading';
import { instant } from '../record/line';
import { capital } from '../words';
import { withKit, type Kit } from './kit';
import { THINGS, changesOf, requestOf, type MeasureAnswer, type Measurement, type Measuring, type Taken } from './measures';
import { Counter, ShotTray, Typed, Watch, type TakerProps } from './readings';

interface Effect {
    before: Quantity;
    after: Quantity;
}
type Measured = MeasureAnswer & { effect?: Effect };

/** The answer, and what it does to the question that it is for: before and after. */
async function measured(request: object | undefined, before: Kit, how: Measurement, question: object): Promise<Measured | undefined> {
    if (!request) return undefined;
    const answer = await ask<MeasureAnswer>('measure', 'measure', request);
    const { effect } = how;
    if (!effect) return answer;
    const told = async (kit: Kit) => {
        const told = await ask<Answer>('measure', effect.command, { ...question, kit });
        return told[effect.key] as Quantity;
    };
    return { ...answer, effect: { before: await told(before), after: await told(answer.kit) } };
}

function Readings({ taken, onChange }: { taken: readonly Taken[]; onChange: (taken: Taken[]) => void }) {
    if (taken.length === 0) return null;
    const turn = (at: number) => onChange(taken.map((one, i) => (i === at ? { ...one, isOut: !one.isOut } : one)));
    return (
        <section>
            <h2>Readings</h2>
            <ol class="taken" reversed>
                {taken.map(({ said, isOut }, i) => (
                    <li key={i}>
                        {isOut ? <s>{said}</s> : <b>{said}</b>}
                        <button type="button" aria-label={`${isOut ? 'Put back' : 'Cross out'} reading ${i + 1}, ${said}`} onClick={() => turn(i)}>
                            {isOut ? 'put back' : 'cross out'}
                        </button>
                    </li>
                )).reverse()}
            </ol>
        </section>
    );
}

function ComesTo({ answer, words }: { answer: Measured; words: string }) {
    const { effect, notes, text } = answer;
    const changes = changesOf(text);
    const wide = changes.filter(({ now }) => now.includes('('));
    const exact = changes.filter((one) => !wide.includes(one));
    return (
        <>
            <div class="reads">
                {effect && <Reading quantity={effect.after} words={`${words}; before ${range(effect.before.text)}`} />}
                {wide.map(({ words, was, now }) => (
                    <Reading key={words} quantity={{ text: now }} words={`${words}; was ${range(was)}`} />
                ))}
            </div>
            <section class="remarks">
                <ul>
                    {exact.map(({ words, was, now }) => (
                        <li key={words}>
                            {capital(words)}: {now}; was {range(was)}
                        </li>
                    ))}
                    {notes.map(({ text }) => (
                        <li key={text}>{text}</li>
                    ))}
                </ul>
            </section>
        </>
    );
}

interface MeasureProps {
    how: Measurement;
    measuring: Measuring;
    onChange: (measuring: Measuring) => void;
    kit: Kit;
    offer: PlanOffer;
    onKeep: (answer: MeasureAnswer) => void;
    onAway: () => void;
}

/** What is asked of the effect: the same water as on the quick screen. */
function questionOf({ of }: Measuring, offer: PlanOffer) {
    const [depth, temp] = [formField(offer.form, DEPTH), formField(offer.form, TEMPERATURE)] as [FormField, FormField];
    const { depthCm, pot } = rememberedChoice({ ...offer, depth, temp });
    return { depth_m: depthCm / 100, question: { bait: of.bait, pot: of.pot ?? pot, water: { depth_m: depthCm / 100 } } };
}

function Taker({ offer, by, ...props }: TakerProps & { offer: PlanOffer; by: Measurement['by'] }) {
    switch (by) {
        case 'watch':
            return <Watch {...props} />;
        case 'counter':
            return <Counter {...props} />;
        case 'shot':
            return <ShotTray {...props} sizes={offer.shots} />;
        case 'typed':
            return <Typed {...props} />;
    }
}

export function MeasureSheet({ how, measuring, onChange, kit, offer, onKeep, onAway }: MeasureProps) {
    const [today] = useState(() => instant(Date.now()).slice(0, 10));
    const { of, values, taken } = measuring;
    const asked = useMemo(() => ({ request: requestOf(measuring, kit, today), ...questionOf(measuring, offer) }), [measuring, kit]);
    const newest = useNewest(asked, ({ request, question }) => measured(request, kit, how, question));
    const isFresh = newest?.of === asked;
    const own = offer.form[how.section]?.find(({ name }) => name === how.keys[0]?.key);
    if (!own) return null;
    const words = how.effect?.command === 'fall' ? `${how.effect.words} ${asked.depth_m.toFixed(2)} m` : (how.effect?.words ?? '');
    const isWeighed = how.weighed !== undefined && 'mass_frac' in values;
    const nothing = taken.every(({ isOut }) => isOut);
    return (
        <div class="measure">
            <section class="known" aria-label={how.name}>
                <h2>1. {how.make}</h2>
                {how.of.map((thing) => (
                    <NameField
                        key={thing}
                        name={THINGS[thing].name}
                        list={withKit({ kit }, THINGS[thing].list, offer[THINGS[thing].list])}
                        word={of[thing] ?? ''}
                        onChoose={(word) => onChange({ ...measuring, of: { ...of, [thing]: word } })}
                    />
                ))}
                {how.fields.map((field) => (
                    <FormStepper
                        key={field.key}
                        field={field}
                        form={offer.form}
                        values={values}
                        put={(changes) => onChange({ ...measuring, values: { ...values, ...changes } })}
                        isFull
                    />
                ))}
                <h2>2. {how.take}</h2>
                <p class="note">{how.how}</p>
                {how.weighed && (
                    <button type="button" aria-pressed={isWeighed} onClick={() => onChange({ ...measuring, values: isWeighed ? how.start : { ...how.weighed } })}>
                        The shot is weighed
                    </button>
                )}
                <Taker by={isWeighed ? 'typed' : how.by} how={how} own={own} offer={offer} onTaken={(one) => onChange({ ...measuring, taken: [...taken, one] })} />
            </section>
            <div>
                <section class="answer" aria-busy={!isFresh && !nothing}>
                    <h2>So far</h2>
                    {nothing && <p class="then">No reading yet. Until then the guess of the catalogue stands.</p>}
                    {newest?.fault && !nothing && <p role="status">{newest.fault}</p>}
                    {newest?.answer && !nothing && <ComesTo answer={newest.answer} words={words} />}
                </section>
                <Readings taken={taken} onChange={(all) => onChange({ ...measuring, taken: all })} />
                <div class="acts">
                    <button
                        type="button"
                        class="main-act"
                        disabled={!isFresh || !newest?.answer || nothing}
                        onClick={() => newest?.answer && onKeep(newest.answer)}
                    >
                        Keep it in the kit
                    </button>
                    <button type="button" onClick={onAway}>
                        Put it away
                    </button>
                </div>
            </div>
        </div>
    );
}

// The quick screen: what is in the pot, how deep, how warm; and at once how many, how long, how wide.
import { useEffect, useState } from 'preact/hooks';
import { useAnswers, type Answers, type Command } from './answers';
import { DEPTH_STEP_CM, POTS, feetAndInches, rememberChoice, rememberedChoice, type Choice } from './choice';
import { Notes } from './notes';
import { PictureBox } from './picture';
import { ask, type CatalogueEntry, type FormField, type Quantity } from './questions';
import { Reading, parts } from './reading';
import { Stepper } from './stepper';

/** The three readings: which answer holds them, and the words under them. */
const READINGS: { command: Command; key: string; unit?: string; words: string }[] = [
    { command: 'pot', key: 'pieces', unit: 'pieces', words: 'in the pot, level' },
    { command: 'fall', key: 'time_s', words: 'to the bottom' },
    { command: 'spread', key: 'wide_m', words: 'ring, 9 in 10 inside' },
];

/** What the steppers may offer, as the core says it. */
interface Offer {
    baits: CatalogueEntry[];
    depth: FormField;
    temp: FormField;
}

async function askOffer(): Promise<Offer> {
    const { baits } = await ask<{ baits: CatalogueEntry[] }>('catalogue', {});
    const { sections } = await ask<{ sections: Record<string, FormField[]> }>('form', {});
    const field = (section: string, name: string) => {
        const found = sections[section]?.find((one) => one.name === name);
        if (!found) throw new Error(`The core knows no ${section}.${name}.`);
        return found;
    };
    return { baits, depth: field('spot', 'depth_m'), temp: field('water', 'temp_c') };
}

function quantityOf(answers: Answers, command: Command, key: string): Quantity | undefined {
    return answers[command]?.answer?.[key] as Quantity | undefined;
}

/** "About 52 in the pot (45-60), 12 s down (10-15), 9 in 10 inside a 14 cm ring (11-19).", numbers kept with their
 * units on one line. */
function sentence(answers: Answers): string {
    const [pot, fall, spread] = READINGS.map(({ command, key }) => {
        const quantity = quantityOf(answers, command, key);
        return quantity && parts(quantity.text);
    });
    if (!pot || !fall || !spread) return '';
    const range = (words: { range: string }) => (words.range ? ` (${words.range})` : '');
    return (
        `About ${pot.middle} in the pot${range(pot)}, ${fall.middle}\u00a0${fall.unit} down${range(fall)}, ` +
        `9 in 10 inside a ${spread.middle}\u00a0${spread.unit} ring${range(spread)}.`
    );
}

function around<T>(list: readonly T[], at: number, by: number): T {
    return list[(at + by + list.length) % list.length] as T;
}

interface QuestionsProps {
    offer: Offer;
    choice: Choice;
    change: (update: (choice: Choice) => Choice) => void;
    potMl: number | undefined;
}

function Questions({ offer, choice, change, potMl }: QuestionsProps) {
    const { baits, depth, temp } = offer;
    const iBait = baits.findIndex((bait) => bait.word === choice.bait);
    const [title = '', state = ''] = (baits[iBait]?.title ?? '').split(', ');
    const clamp = (value: number, least: number, most: number) => Math.min(Math.max(value, least), most);
    const leastCm = Math.ceil((depth.least * 100) / DEPTH_STEP_CM) * DEPTH_STEP_CM;
    const mostCm = depth.most * 100;
    const leastHalfC = Math.ceil(temp.least * 2);
    const mostHalfC = Math.floor(temp.most * 2);

    return (
        <section class="questions" aria-label="Three questions">
            <Stepper
                name="Bait"
                isTall
                less="Bait before"
                more="Bait after"
                onStep={(by) =>
                    change((now) => {
                        const at = baits.findIndex((bait) => bait.word === now.bait);
                        return { ...now, bait: around(baits, at, by).word };
                    })
                }
                value={
                    <>
                        {title.charAt(0).toUpperCase() + title.slice(1)} {state && <small>{state}</small>}
                    </>
                }
            />
            <Stepper
                name="Pot"
                less="Pot smaller"
                more="Pot larger"
                onStep={(by) => change((now) => ({ ...now, pot: around(POTS, POTS.indexOf(now.pot), by) }))}
                value={
                    <>
                        {choice.pot.charAt(0).toUpperCase() + choice.pot.slice(1)}{' '}
                        {potMl !== undefined && <small>{Math.round(potMl)} ml</small>}
                    </>
                }
            />
            <Stepper
                name="Depth"
                less="Depth less"
                more="Depth more"
                isLeast={choice.depthCm <= leastCm}
                isMost={choice.depthCm >= mostCm}
                onStep={(by) =>
                    change((now) => ({ ...now, depthCm: clamp(now.depthCm + by * DEPTH_STEP_CM, leastCm, mostCm) }))
                }
                value={
                    <>
                        {(choice.depthCm / 100).toFixed(2)} <small>m, {feetAndInches(choice.depthCm)}</small>
                    </>
                }
            />
            <Stepper
                name="Water"
                less="Water colder"
                more="Water warmer"
                isLeast={choice.tempHalfC <= leastHalfC}
                isMost={choice.tempHalfC >= mostHalfC}
                onStep={(by) =>
                    change((now) => ({
                        ...now,
                        isTempKnown: true,
                        tempHalfC: now.isTempKnown ? clamp(now.tempHalfC + by, leastHalfC, mostHalfC) : now.tempHalfC,
                    }))
                }
                value={
                    choice.isTempKnown ? (
                        <>
                            {(choice.tempHalfC / 2).toFixed(1)} <small>{'\u00b0'}C</small>
                        </>
                    ) : (
                        'Don\u2019t know'
                    )
                }
            >
                <button
                    type="button"
                    aria-pressed={!choice.isTempKnown}
                    onClick={() => change((now) => ({ ...now, isTempKnown: !now.isTempKnown }))}
                >
                    Don{'\u2019'}t know how warm
                </button>
            </Stepper>
        </section>
    );
}

function AnswerBox({ answers, choice }: { answers: Answers; choice: Choice }) {
    const isFresh = READINGS.every(({ command }) => answers[command]?.of === choice);
    const faults = [...new Set(READINGS.flatMap(({ command }) => answers[command]?.fault ?? []))];
    const spoken = isFresh ? sentence(answers) : undefined;
    const [lastSpoken, setLastSpoken] = useState('');
    useEffect(() => {
        if (spoken !== undefined) setLastSpoken(spoken);
    }, [spoken]);
    return (
        <section class="answer" aria-busy={!isFresh}>
            <h2>Answer</h2>
            <p class="lead" role="status">
                {lastSpoken}
            </p>
            {faults.map((fault) => (
                <p class="caution" role="alert" key={fault}>
                    {fault}
                </p>
            ))}
            <div class="reads">
                {READINGS.map(({ command, key, unit, words }) => {
                    const quantity = quantityOf(answers, command, key);
                    return (
                        quantity && <Reading key={key} quantity={quantity} words={words} {...(unit ? { unit } : {})} />
                    );
                })}
            </div>
        </section>
    );
}

export function Quick() {
    const [offer, setOffer] = useState<Offer>();
    const [fault, setFault] = useState('');
    const [choice, setChoice] = useState(rememberedChoice);
    useEffect(() => {
        askOffer().then(setOffer, (reason: Error) => setFault(reason.message));
    }, []);
    useEffect(() => rememberChoice(choice), [choice]);
    const answers = useAnswers(choice);

    if (fault)
        return (
            <p class="caution" role="alert">
                <b>The calculator did not start.</b> {fault}
            </p>
        );
    if (!offer) return <p class="note">Starting.</p>;

    const potM3 = answers.pot?.answer?.inputs['pot']?.['volume_m3'];
    const notes = READINGS.flatMap(({ command }) => answers[command]?.answer?.notes ?? []);
    const pictures = answers.spread?.answer?.pictures ?? {};
    return (
        <div class="quick">
            <Questions
                offer={offer}
                choice={choice}
                change={setChoice}
                potMl={typeof potM3 === 'number' ? potM3 * 1e6 : undefined}
            />
            <AnswerBox answers={answers} choice={choice} />
            <Notes notes={notes} />
            <div class="pictures">
                {pictures['side'] && <PictureBox title="From the side" picture={pictures['side']} />}
                {pictures['above'] && <PictureBox title="From above" picture={pictures['above']} />}
            </div>
        </div>
    );
}

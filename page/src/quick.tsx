// The quick screen: what is in the pot, how deep, how warm; and at once how many, how long, how wide.
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { useAnswers, type Answers, type Command } from './answers';
import {
    askOffer,
    feetAndInches,
    limits,
    rememberChoice,
    rememberedChoice,
    stepped,
    type Choice,
    type Offer,
    type Question,
    type Step,
} from './choice';
import { Waits } from './frame';
import { ThisDevice } from './home';
import { loadKit, offeredWith, type Kit } from './kit/kit';
import { FirstNotes, OtherNotes } from './notes';
import { PictureBox } from './picture';
import type { Note, Quantity } from './questions';
import { Reading, parts } from './reading';
import { useRecorder } from './record/hooks';
import { unitOf } from './settings/units';
import { Stepper } from './stepper';

/** The three readings: which answer holds them, and the words under them. */
const READINGS: { command: Command; key: string; unit?: string; words: string }[] = [
    { command: 'pot', key: 'pieces', unit: 'pieces', words: 'in the pot, level' },
    { command: 'fall', key: 'time_s', words: 'to the bottom' },
    { command: 'spread', key: 'wide_m', words: 'ring, 9 in 10 inside' },
];

function quantityOf(answers: Answers, command: Command, key: string): Quantity | undefined {
    return answers[command]?.answer?.[key] as Quantity | undefined;
}

/** Nothing goes into the pot: then nothing is put in, and nothing lies on the bottom. */
function isPotEmpty(answers: Answers): boolean {
    return quantityOf(answers, 'pot', 'pieces')?.hi === 0;
}

/** "About 52 in the pot (45-60), 12 s down (10-15), 9 in 10 inside a 14 cm ring (11-19).", numbers kept with their
 * units on one line. */
function sentence(answers: Answers): string {
    const said = ({ command, key }: { command: Command; key: string }) => {
        const quantity = quantityOf(answers, command, key);
        if (!quantity) return undefined;
        const { middle, unit, range } = parts(quantity.text);
        return { middle: unit ? `${middle}\u00a0${unit}` : middle, range: range && ` (${range})` };
    };
    const [pot, fall, spread] = READINGS.map(said);
    if (fall && isPotEmpty(answers)) return `None fits into this pot; one alone is ${fall.middle} down${fall.range}.`;
    if (!pot || !fall || !spread) return '';
    return (
        `About ${pot.middle} in the pot${pot.range}, ${fall.middle} down${fall.range}, ` +
        `9 in 10 inside a ${spread.middle} ring${spread.range}.`
    );
}

function capital(words: string): string {
    return words.charAt(0).toUpperCase() + words.slice(1);
}

interface QuestionsProps {
    offer: Offer;
    choice: Choice;
    potMl: number | undefined; // as the core understood it
    change: (update: (choice: Choice) => Choice) => void;
}

function Questions({ offer, choice, potMl, change }: QuestionsProps) {
    const { leastCm, mostCm, leastHalfC, mostHalfC } = limits(offer);
    const [title = '', state = ''] = (offer.baits.find((bait) => bait.word === choice.bait)?.title ?? '').split(', ');
    const step = (question: Question) => (by: Step) => change((now) => stepped(now, question, by, offer));
    const metres = `${(choice.depthCm / 100).toFixed(2)}\u00a0m`;
    const feet = feetAndInches(choice.depthCm);
    const isFeet = unitOf('depth').isFeet;
    const { unit: degrees, per, zero = 0 } = unitOf('temp');
    const temp = (choice.tempHalfC / 2 / per + zero).toFixed(1);

    return (
        <section class="questions" aria-label="Three questions">
            <Stepper name="Bait" less="Bait before" more="Bait after" isTall onStep={step('bait')}>
                {capital(title)} <small>{state}</small>
            </Stepper>
            <Stepper name="Pot" less="Pot smaller" more="Pot larger" onStep={step('pot')}>
                {capital(choice.pot)} <small>{potMl !== undefined && `${Math.round(potMl)} ml`}</small>
            </Stepper>
            <Stepper
                name="Depth"
                less="Depth less"
                more="Depth more"
                isLeast={choice.depthCm <= leastCm}
                isMost={choice.depthCm >= mostCm}
                onStep={step('depth')}
            >
                {isFeet ? feet : metres.slice(0, -2)} <small>{isFeet ? metres : `m, ${feet}`}</small>
            </Stepper>
            <Stepper
                name="Water"
                less="Water colder"
                more="Water warmer"
                isLeast={choice.isTempKnown && choice.tempHalfC <= leastHalfC}
                isMost={choice.isTempKnown && choice.tempHalfC >= mostHalfC}
                onStep={step('temp')}
                below={
                    <button
                        type="button"
                        aria-pressed={!choice.isTempKnown}
                        onClick={() => change((now) => ({ ...now, isTempKnown: !now.isTempKnown }))}
                    >
                        Don{'\u2019'}t know how warm
                    </button>
                }
            >
                {choice.isTempKnown ? temp : 'Don\u2019t know'} <small>{choice.isTempKnown && degrees}</small>
            </Stepper>
        </section>
    );
}

function AnswerBox({ answers, choice, notes }: { answers: Answers; choice: Choice; notes: Note[] }) {
    const isFresh = READINGS.every(({ command }) => answers[command]?.of === choice);
    const shown = READINGS.filter(({ command }) => !(command === 'spread' && isPotEmpty(answers)));
    const faults = [...new Set(shown.flatMap(({ command }) => answers[command]?.fault ?? []))];
    const spoken = isFresh ? sentence(answers) : undefined;
    const [lastSpoken, setLastSpoken] = useState('');
    useEffect(() => {
        if (spoken !== undefined) setLastSpoken(spoken);
    }, [spoken]);
    return (
        <section class="answer" aria-busy={!isFresh}>
            <h2>Answer</h2>
            <p class="lead" role="status">
                {lastSpoken
                    .match(/\([^)]*\)[,.;]?|[^(]+/g)
                    ?.map((part) => (part.startsWith('(') ? <span class="together">{part}</span> : part))}
            </p>
            {faults.map((fault) => (
                <p class="caution" role="alert" key={fault}>
                    {fault}
                </p>
            ))}
            <div class="reads">
                {shown.map(({ command, key, unit, words }) => {
                    const quantity = quantityOf(answers, command, key);
                    return (
                        quantity && <Reading key={key} quantity={quantity} words={words} {...(unit ? { unit } : {})} />
                    );
                })}
            </div>
            <FirstNotes notes={notes} />
        </section>
    );
}

interface QuickProps {
    waysOn?: (choice: Choice) => ComponentChildren; // what to do next with what was told
    onAnswered?: () => void; // all of the first answer stands, or it is said why not
}

function QuickScreen({ offer, kit, waysOn, onAnswered }: QuickProps & { offer: Offer; kit: Kit }) {
    const [choice, setChoice] = useState(() => rememberedChoice(offer));
    useEffect(() => rememberChoice(choice), [choice]);
    const answers = useAnswers(choice, kit);
    const potM3 = answers.pot?.answer?.inputs['pot']?.['volume_m3'];
    const notes = READINGS.flatMap(({ command }) => answers[command]?.answer?.notes ?? []);
    const pictures = answers.spread?.answer?.pictures ?? {};
    const isAnswered = (['pot', 'fall'] as const).every((command) => answers[command]?.answer || answers[command]?.fault);
    const [isBegun, setIsBegun] = useState(false);
    useEffect(() => {
        if (isAnswered) setIsBegun(true);
    }, [isAnswered]);
    const isWhole = READINGS.every(({ command }) => answers[command]);
    useEffect(() => {
        if (isWhole) onAnswered?.();
    }, [isWhole]);
    return (
        <>
            <div class="quick">
                {!isBegun && <Waits />}
                <Questions
                    offer={offer}
                    choice={choice}
                    change={setChoice}
                    potMl={typeof potM3 === 'number' ? potM3 * 1e6 : undefined}
                />
                <AnswerBox answers={answers} choice={choice} notes={notes} />
                {waysOn?.(choice)}
                <div class="pictures">
                    {pictures['side'] && <PictureBox title="From the side" picture={pictures['side']} />}
                    {pictures['above'] && <PictureBox title="From above" picture={pictures['above']} />}
                </div>
                <OtherNotes notes={notes} />
            </div>
            {isWhole && <ThisDevice />}
        </>
    );
}

export function Quick(props: QuickProps) {
    const recorder = useRecorder();
    const [offered, setOffered] = useState<{ offer: Offer; kit: Kit }>();
    const [fault, setFault] = useState('');
    useEffect(() => {
        const kept = loadKit(recorder).catch((): Kit => ({})); // a store that does not open is told at home
        Promise.all([askOffer(), kept]).then(
            ([offer, kit]) => setOffered({ offer: offeredWith(kit, offer), kit }),
            (reason: Error) => {
                setFault(reason.message);
                props.onAnswered?.();
            },
        );
    }, []);
    if (fault)
        return (
            <>
                <p class="caution" role="alert">
                    <b>The calculator did not start.</b> {fault}
                </p>
                <ThisDevice />
            </>
        );
    return offered ? <QuickScreen {...offered} {...props} /> : <Waits />;
}

// The Bank on simulated water: the same digits, the same counts, FEED and RIG IN in the same places. What shows comes of the model;
// what is chosen is the angler's. Time goes on by buttons alone.
import { useEffect, useState } from 'preact/hooks';
import { feedWords } from '../bank/acts';
import { lookedWords } from '../believing';
import { Glance } from '../bank/glance';
import { Mark, OUTCOMES } from '../bank/marks';
import { stripAfter, type Choice as StripChoice } from '../bank/strip';
import { LookButton, useTitle } from '../frame';
import { Why } from '../next/why';
import { feedOf, type Plan, type Values } from '../plan/plan';
import { range } from '../reading';
import type { OutcomeWord } from '../record/answers';
import type { Body, RecordEvent } from '../record/line';
import type { Setup } from '../setup';
import { capital } from '../words';
import { useRehearsedAdvice } from './advice';
import { before, type Choice, type Played, type Playing } from './rehearsal';

const WAITS = [
    [60, '1 min'],
    [300, '5 min'],
] as const;
const BITE_S = 1800; // so long a bite is waited for at most

const lastOf = (choices: readonly Choice[], is: (choice: Choice) => boolean) => [...choices].reverse().find(is);

/** What a choice was, for taking it back. */
function choiceWords({ file, answer }: Played): string {
    const i = file.choices.length - 1;
    const { kind, for_s = 0 } = file.choices[i] as Choice;
    const event = answer.events.find(({ choice }) => choice === i);
    if (kind === 'wait') return `Waited ${for_s < 60 ? `${for_s} s` : `${Math.round(for_s / 60)} min`}`;
    return event ? `${event.word} ${event.at_text.slice(0, 5)}` : capital(kind);
}

const AMOUNTS = ['count', 'volume_m3', 'fill_frac'];

/** The put-in with what a strip changes of it. */
function withFix(body: Body, fix: Body): Body {
    const isAmount = Object.keys(fix).some((key) => AMOUNTS.includes(key));
    const kept = Object.entries(body).filter(([key]) => !isAmount || !AMOUNTS.includes(key));
    return { ...(Object.fromEntries(kept) as Body), ...fix };
}

/** What FEED puts in: as last time there, else as the plan has it, else a full pot. */
function putOf({ file }: Played, spot: string, bait: string): Body {
    const isSame = ({ kind, body }: Choice) => kind === 'feed' && body?.['spot'] === spot && body['bait'] === bait;
    const last = lastOf(file.choices, isSame);
    if (last?.body) return last.body;
    const plan = file.setup['plan'] as Plan | undefined;
    const line = plan && (plan.feed.find((one) => one.spot === spot && one.bait === bait) ?? feedOf(plan, spot));
    const { count, volume_m3, fill, how } = (line?.bait === bait ? line : {}) as Values;
    const own = { spot, bait, how: typeof how === 'string' ? how : 'clump' };
    if (typeof count === 'number') return { ...own, count };
    if (typeof volume_m3 === 'number') return { ...own, volume_m3 };
    return { ...own, fill_frac: typeof fill === 'number' ? fill : 1 };
}

function Advised({ played, onClose }: { played: Played; onClose: () => void }) {
    const { of, answer, fault } = useRehearsedAdvice(played);
    return (
        <section class="advised-panel reckon" aria-label="Advice" aria-busy={of !== played}>
            <div class="panel-head">
                <b>Advice</b>
                <button type="button" onClick={onClose}>
                    Close
                </button>
            </div>
            {of !== played && <p class="soft">{lookedWords(answer?.at, { isReady: true, isWorking: true, fault: '' })}</p>}
            {answer?.action && <p class="advice">{range(answer.action.text)}.</p>}
            {answer?.either && (
                <p>
                    <b>Either, your call:</b> {range(answer.either.text)}.
                </p>
            )}
            {answer && !answer.action && <p>{answer.notes[0]?.text}</p>}
            {fault && <p role="alert">{fault}</p>}
            {answer?.action && <Why answer={answer} isLinked={false} />}
        </section>
    );
}

const SHOWN = { landed: 'fish', lost: 'lost', missed: 'missed', foul: 'foul', nothing: 'nothing' } as const;

/** What came of it, as on the Bank; here the water presses, but for lifting out without a bite. */
function Outcomes({ played, onLift }: { played: Played; onLift: () => void }) {
    const { bank, answer } = played;
    const newest = answer.events.at(-1);
    const shown = newest?.kind === 'touch' ? 'touch' : SHOWN[newest?.outcome as keyof typeof SHOWN];
    const inner = (name: OutcomeWord, word: string) => (
        <>
            <span>{word}</span>
            <span class="count">
                <Mark name={name} />
                <span class="c">{bank.counts[name]}</span>
            </span>
        </>
    );
    const isIn = answer.rig.in;
    return (
        <div class="outcomes" role="group" aria-label="What came of it">
            {OUTCOMES.filter(({ name }) => name !== 'nothing').map(({ name, word }) => (
                <div key={name} class={`tile o-${name}${name === shown ? ' new' : ''}`}>
                    {inner(name, word)}
                </div>
            ))}
            <button type="button" class="o-nothing" aria-disabled={isIn ? undefined : 'true'} onClick={() => isIn && onLift()}>
                {inner('nothing', 'Lift out')}
            </button>
        </div>
    );
}

interface PickProps {
    label: string;
    value: string;
    all: readonly string[];
    words?: readonly string[]; // what is said for each
    onPick: (next: string) => void;
}
/** One of a few: a press goes on to the next. */
function Pick({ label, value, all, words = all, onPick }: PickProps) {
    const next = all[(all.indexOf(value) + 1) % all.length] ?? value;
    return (
        <button type="button" disabled={all.length < 2} onClick={() => onPick(next)}>
            <small>{label}</small>
            {words[all.indexOf(value)] ?? value}
        </button>
    );
}

interface SwimProps {
    playing: Playing;
    played: Played;
    setup: Setup;
    onEnd: () => void;
}

export function Swim({ playing, played, setup, onEnd }: SwimProps) {
    const { file, answer, bank } = played;
    const { rig, spots, baits, hook_baits: hooks, events } = answer;
    const [spot, setSpot] = useState(rig.spot || spots[0] || '');
    const fedLast = lastOf(file.choices, ({ kind }) => kind === 'feed');
    const [bait, setBait] = useState(String(fedLast?.body?.['bait'] ?? baits[0]));
    const [hook, setHook] = useState(rig.hook_bait || hooks[0] || '');
    const [isAdvised, setIsAdvised] = useState(false);
    const [stripOf, setStripOf] = useState<number>(); // the index of the choice that can still be changed
    useTitle('Rehearse');
    useEffect(() => window.scrollTo(0, 0), []); // the screen before it may have been scrolled

    const put = putOf(played, spot, bait);
    const choose = (kind: Choice['kind'], body?: Body) => {
        playing.choose(({ file: now, answer: { now_s } }) => ({
            ...now,
            choices: [...now.choices, { t_s: now_s, kind, ...(body && { body }) }],
            until_s: now_s,
        }));
        setStripOf(kind === 'feed' ? file.choices.length : undefined);
    };
    const wait = (for_s: number) => {
        setStripOf(undefined);
        playing.wait(for_s);
    };
    const takeBack = () => {
        setStripOf(undefined);
        playing.choose(({ file: now }) => before(now, now.choices.length - 1));
    };
    const fix = (i: number, change: Body) =>
        playing.choose(({ file: now }) => ({
            ...now,
            choices: now.choices.map((one, k) => (k === i ? { ...one, body: withFix(one.body ?? {}, change) } : one)),
        }));
    const isStrip = stripOf !== undefined && stripOf === file.choices.length - 1;
    const strip = isStrip
        ? stripAfter({ kind: 'feed', body: file.choices[stripOf]?.body ?? {} } as RecordEvent, setup)
        : undefined;
    const newest = events.at(-1);
    const happened = newest && [`${newest.at_text.slice(0, 5)} ${newest.word}`, newest.detail].filter(Boolean).join(': ');
    const rigWords = !rig.in ? 'out' : rig.spot === spot ? bank.wait?.text : `at ${rig.spot}`;
    const hasChosen = file.choices.length > 0;
    return (
        <main class="bank sim" aria-busy={playing.isWorking} data-played={playing.nPlayed}>
            <h1 class="hide">Rehearse, simulated</h1>
            <div class="clock">
                <b>
                    {answer.now_text} <span class="simulated">Simulated</span>
                </b>
                <LookButton />
                <button type="button" onClick={onEnd}>
                    End
                </button>
            </div>
            <Glance bank={bank} place="glance" />
            <div class="times" role="group" aria-label="Let time go on; a bite stops it">
                {WAITS.map(([s, word]) => (
                    <button type="button" key={word} onClick={() => wait(s)}>
                        {word}
                    </button>
                ))}
                <button type="button" aria-disabled={rig.in ? undefined : 'true'} onClick={() => rig.in && wait(BITE_S)}>
                    Next bite
                </button>
            </div>
            <div class="mid">
                {strip ? (
                    <div class="strip" role="group" aria-label={strip.label}>
                        {strip.choices.map(({ word, name, fix: change }: StripChoice) => (
                            <button
                                type="button"
                                key={word}
                                aria-label={`${word}, ${name}`}
                                onClick={() => change && fix(stripOf as number, change)}
                            >
                                {word}
                            </button>
                        ))}
                    </div>
                ) : (
                    <p class="words" role="status">
                        {playing.fault || (happened ?? 'Nothing has happened yet')}
                    </p>
                )}
            </div>
            <div class="undo-two">
                <button
                    type="button"
                    class="undo"
                    aria-disabled={hasChosen ? undefined : 'true'}
                    onClick={() => hasChosen && takeBack()}
                >
                    <span class="named">{hasChosen ? choiceWords(played) : 'Nothing chosen yet'}</span>
                    {hasChosen && <u>take back</u>}
                </button>
                <button type="button" class="ask" aria-expanded={isAdvised} onClick={() => setIsAdvised(!isAdvised)}>
                    Advice
                </button>
            </div>
            {isAdvised ? (
                <Advised played={played} onClose={() => setIsAdvised(false)} />
            ) : (
                <Outcomes played={played} onLift={() => choose('lift')} />
            )}
            <div class="picks">
                <Pick label="Spot" value={spot} all={spots} onPick={setSpot} />
                <Pick label="Feed" value={bait} all={baits} words={answer.baits_short} onPick={setBait} />
                <Pick label="Hook" value={hook} all={hooks} words={answer.hook_baits_short} onPick={setHook} />
            </div>
            <div class="feedrow">
                <button type="button" onClick={() => choose('feed', put)}>
                    FEED<span>{feedWords(put, setup)}</span>
                </button>
                <button
                    type="button"
                    aria-pressed={rig.in && rig.spot === spot && rig.hook_bait === hook}
                    onClick={() => choose('lower', { spot, hook_bait: hook })}
                >
                    RIG IN<span>{rigWords}</span>
                </button>
            </div>
        </main>
    );
}

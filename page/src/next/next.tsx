// What to do next: one line, its grounds, what came of it; the rest behind a press. It may be an hour old or not there yet: FEED
// and RIG IN below never wait for it.
//   advice.ts  asks, and keeps what was said last     advised.ts  what the Bank makes of it, and the entries
//   why.tsx    reasons                                 odds.tsx    chances in tens          aim.tsx  what for
import { useRef, useState } from 'preact/hooks';
import { useAwake } from '../awake';
import { feedWords, preset, timesFeed } from '../bank/acts';
import { lookedWords } from '../believing';
import { useSpots } from '../bed/belief';
import { Frame, type Tab } from '../frame';
import { LiveBar } from '../log/live';
import { useCarried, withPot } from '../peg/carried';
import { range } from '../reading';
import type { Bank } from '../record/answers';
import { useRecorder } from '../record/hooks';
import { clockOf, type Body } from '../record/line';
import type { Entry } from '../record/record';
import { go } from '../route';
import { saveSetup, type Setup } from '../setup';
import { capital } from '../words';
import { useAdvice, type Advice } from './advice';
import { feedOf, keepRig, logAdvice, logDone } from './advised';
import { AimPart } from './aim';
import type { NextAnswer } from './answers';
import { Dots } from './odds';
import { Why } from './why';

const FLASH_MS = 300;

/** The advice itself, which has room for its lines: what is pressed below it stays in its place when newer advice comes. */
function Said({ advice }: { advice: Advice }) {
    const answer = advice.looked?.answer;
    return (
        <section class="reckon" aria-label="What to do next">
            {answer?.action && <p class="advice">{range(answer.action.text)}.</p>}
            {answer && !answer.action && <p class="advice">{answer.notes[0]?.text ?? 'No advice yet.'}</p>}
            {!answer && <p class="advice soft">No advice yet. {lookedWords(undefined, advice)}</p>}
            {advice.fault && (
                <p class="caution" role="alert">
                    <b>The advice cannot be worked out.</b> Everything entered is kept. {advice.fault}
                </p>
            )}
        </section>
    );
}

/** What goes with it: another way as good, when it was looked at. */
function Besides({ answer, advice }: { answer: NextAnswer; advice: Advice }) {
    const { action, either, kept } = answer;
    return (
        <section class="reckon">
            {either && (
                <p class="advice either">
                    <b>Either, your call:</b> {range(either.text)}.
                </p>
            )}
            <p class="looking soft">
                {lookedWords(answer.at, advice)}
                {action?.look_again && ` Look again at ${clockOf(action.look_again).slice(0, 5)}.`}
                {kept && ' It stays what was said before: nothing else is clearly better.'}
            </p>
        </section>
    );
}

/** How far it can be trusted: words of the book, until odds are earned. */
function Grounds({ answer }: { answer: NextAnswer }) {
    const { grounds, grounds_text = '', gain, hour, odds, p_best } = answer;
    const isOwn = grounds === 'own';
    return (
        <section class="grounds" aria-label="How sure">
            <h2>{isOwn ? 'How sure' : 'From the book, not from your log'}</h2>
            {gain && <p>{capital(range(gain.text))}.</p>}
            {isOwn && hour?.text && <p>It brings {range(hour.text)}.</p>}
            {isOwn && odds && (
                <>
                    <p class="chance">A fish by {odds.until ? clockOf(odds.until).slice(0, 5) : 'the next look'}</p>
                    <Dots p={odds.p} />
                </>
            )}
            {isOwn && typeof p_best === 'number' && (
                <>
                    <p class="chance">Nothing else brings more</p>
                    <Dots p={p_best} />
                </>
            )}
            {isOwn && odds && <p>{range(odds.text)}</p>}
            <p class="note soft">{grounds_text}</p>
        </section>
    );
}

interface DoneProps {
    answer: NextAnswer;
    setup: Setup;
    planned: Body | undefined;
    session: string;
}

/** Did it, or something else: entries like any other. */
function Done({ answer, setup, planned, session }: DoneProps) {
    const recorder = useRecorder();
    const bank = recorder.bank as Bank;
    const spots = useSpots(session) ?? [];
    const [isOther, setIsOther] = useState(false);
    const [said, setSaid] = useState('');
    const held = useRef<NextAnswer>(); // as it stood when the finger came down
    const meant = () => {
        const was = held.current ?? answer;
        held.current = undefined;
        return was;
    };
    const hold = () => (held.current = answer);
    const finish = (control: HTMLElement, entry: Entry, words: string) => {
        control.classList.add('hit');
        setTimeout(() => control.classList.remove('hit'), FLASH_MS);
        setIsOther(false);
        void entry.stored.then(() => setSaid(`${words} ${clockOf(entry.event.at).slice(0, 5)}. The Bank can cross it out.`));
    };
    const feedOfIt = (was: NextAnswer) => was.action && feedOf(was.action, bank.last_feed, setup, planned);
    const didIt = (control: HTMLElement) => {
        const was = meant();
        const entry = logDone(recorder, was, feedOfIt(was) ?? undefined);
        finish(control, entry, entry.event.kind === 'feed' ? 'Feed logged as advised' : 'Logged as done');
    };
    const other = (control: HTMLElement, words: string, body?: Body) => {
        const advice = logAdvice(recorder, meant(), 'other');
        finish(control, body ? recorder.log('feed', body) : advice, words);
        return advice;
    };
    const usual = preset(bank.last_feed, setup, planned);
    const puts = [0.5, 1, 2].map((times) => ({ ...usual, ...(times === 1 ? {} : timesFeed(usual, times)) }));
    const feed = feedOfIt(answer);
    const isNow = answer.action?.what !== 'wait';
    const elsewhere = spots.filter((spot) => spot !== answer.spot);
    return (
        <section class="followed" aria-label="What you did">
            <div class="two">
                <button
                    type="button"
                    class="main-act"
                    onPointerDown={hold}
                    onClick={(event) => didIt(event.currentTarget)}
                >
                    Did it{isNow && feed && `: ${feedWords(feed, setup)}`}
                </button>
                <button type="button" aria-expanded={isOther} onPointerDown={hold} onClick={() => setIsOther(!isOther)}>
                    Did other
                </button>
            </div>
            {isOther && (
                <div class="others" role="group" aria-label="What you did instead">
                    <p>What instead? It is logged.</p>
                    {puts.map((put) => (
                        <button
                            type="button"
                            key={feedWords(put, setup)}
                            onClick={(event) => other(event.currentTarget, 'Feed logged', put)}
                        >
                            Fed: {feedWords(put, setup)}
                        </button>
                    ))}
                    <button type="button" onClick={(event) => other(event.currentTarget, 'Held off, logged')}>
                        Held off
                    </button>
                    {elsewhere.map((spot) => (
                        <button
                            type="button"
                            key={spot}
                            onClick={(event) =>
                                keepRig(recorder, other(event.currentTarget, `Moved to ${spot}, logged`).event.id, { spot })
                            }
                        >
                            Moved to {spot}
                        </button>
                    ))}
                    <button
                        type="button"
                        onClick={(event) => {
                            other(event.currentTarget, 'Logged');
                            go('log');
                        }}
                    >
                        Another feed, in the Log
                    </button>
                </div>
            )}
            <div class="did" role="status">
                {said}
            </div>
        </section>
    );
}

interface NextScreenProps {
    session: string;
    setup: Setup;
    onSetup: (setup: Setup) => void;
    tabs: readonly Tab[];
}

export function NextScreen({ session, setup: own, onSetup, tabs }: NextScreenProps) {
    const recorder = useRecorder();
    const bank = recorder.bank as Bank;
    const carried = useCarried();
    const setup = withPot(own, carried);
    const advice = useAdvice(session, setup.aim);
    useAwake();
    const answer = advice.looked?.answer;
    const spot = answer?.spot ?? bank.spot ?? '';
    const isKnown = answer !== undefined || advice.fault !== ''; // until then nothing stands where the advice will push it down
    const keepAim = (aim: Setup['aim']) => {
        onSetup({ ...own, aim });
        saveSetup(recorder, { ...own, aim }).catch(() => undefined); // the bar "NOT SAVED" tells why
    };
    return (
        <Frame title="Next" below={`${spot ? `${capital(spot)}. ` : ''}Reckoned, your call`} shown="bank" tabs={tabs}>
            <div class="next" aria-busy={advice.isWorking} data-from={advice.looked?.from_s}>
                <div>
                    <Said advice={advice} />
                    {answer?.action && <Done {...{ answer, setup, session }} planned={carried?.feed} />}
                    {answer && <Besides {...{ answer, advice }} />}
                </div>
                <div>
                    {answer?.action && <Grounds answer={answer} />}
                    {answer?.action && <Why answer={answer} />}
                    {isKnown && <AimPart aim={setup.aim} unit={setup.unit} onAim={keepAim} />}
                    {isKnown && bank.box.length > 0 && (
                        <p class="note">In the box: {bank.box.map(({ text }) => range(text)).join('; ')}.</p>
                    )}
                </div>
            </div>
            <LiveBar setup={setup} />
        </Frame>
    );
}

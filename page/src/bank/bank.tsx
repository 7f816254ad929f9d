// The Bank: the one screen that must work with a wet thumb and half an eye.
//   hands.ts   what fingers mean      rain.ts  what they cannot mean     acts.ts   what is entered
//   strip.ts   what completes it      undo.tsx what takes it back        mid.tsx   the line in between
//   lay.ts     when to lower after a put-in, when the session began with a plan
//   ../next/   what to do next: a line here, what FEED puts in, and a screen of its own
//   pad.tsx    weights by digits      held.tsx what could not be stored  keys.ts   the same by keys
//   room.ts    whether the ways to other screens have a row of their own
// A press turns its button over at once; its count rises when the entry is on the medium.
import { useEffect, useRef, useState } from 'preact/hooks';
import { useAwake } from '../awake';
import { lookedWords } from '../believing';
import { LookButton, Tabs, useTitle, type Tab } from '../frame';
import { useLook } from '../look';
import { clockOf, instant, type RecordEvent } from '../record/line';
import { useRecorder } from '../record/hooks';
import type { Bank, OutcomeWord } from '../record/answers';
import type { Entry } from '../record/record';
import { useTwins } from '../log/twins';
import { useAdvice } from '../next/advice';
import { advisedFeed, lineWords, nextRig, rigWords } from '../next/advised';
import { useCarried, withPot } from '../peg/carried';
import { go, type Route } from '../route';
import type { Setup } from '../setup';
import { feedWords, logOutcome, outcomeIn, preset, stepOf, undoOf, withAdvice } from './acts';
import { Glance } from './glance';
import { useHands } from './hands';
import { HeldSheet } from './held';
import { useKeys } from './keys';
import { layIn } from './lay';
import { Mark, OUTCOMES } from './marks';
import { Mid } from './mid';
import { Pad, type Weighing } from './pad';
import { Rain, reversal, type Reversal } from './rain';
import { useIsTall } from './room';
import { useSince } from './since';
import { STRIP_MS, stripAfter, type Strip } from './strip';
import { UndoStrip } from './undo';
import { afterKey, weightKg } from './weight';

const FLASH_MS = 300;
const ARMED_MS = 3000; // time for the second step of opening
const LOCK_KEY = 'baitfall.locked';
const DRAFT = 'weigh';
/** Where the Bank leads: what has room beside the net in 20 px letters at 320 px. The Review is one step further, from any of them. */
const WAYS: readonly Route[] = ['bed', 'log', 'rest'];

/** What a clock on the wall shows: "11:42". */
const wallClock = () => clockOf(instant(Date.now())).slice(0, 5);

/** A value, and its latest for listeners that outlive a drawing. */
function useLatest<T>(value: T) {
    const latest = useRef(value);
    latest.current = value;
    return latest;
}

export function BankScreen({ setup: own, tabs }: { setup: Setup; tabs: readonly Tab[] }) {
    const recorder = useRecorder();
    const bank = recorder.bank as Bank;
    const carried = useCarried();
    const setup = withPot(own, carried);
    const advice = useAdvice(recorder.live ?? '', setup.aim);
    const answer = advice.looked?.answer;
    const { next: nextLook } = useLook();
    const root = useRef<HTMLElement>(null);
    const isTall = useIsTall(root);
    const rain = useRef(new Rain()).current;
    const recent = useRef<{ at: number; event: RecordEvent }[]>([]).current;
    const isLockedNow = useRef(sessionStorage.getItem(LOCK_KEY) !== null);
    const [isLocked, setIsLocked] = useState(isLockedNow.current);
    const [isArmed, setIsArmed] = useState(false);
    const [sweep, setSweep] = useState<Reversal>();
    const [strip, setStrip] = useState<Strip>();
    const [weighing, setWeighing] = useState<Weighing>();
    const [isPadOpen, setIsPadOpen] = useState(false);
    const [isHeldOpen, setIsHeldOpen] = useState(false);
    const [areTabsOpen, setAreTabsOpen] = useState(false);
    const [said, setSaid] = useState('');
    const peg = bank.session?.peg;
    useTitle(peg ? `Bank, peg ${peg}` : 'Bank');
    useSince(recorder);
    useAwake();

    const keeping = recorder.keeping;
    const undo = undoOf(bank);
    const put =
        advisedFeed(answer, recorder, setup, carried?.feed) ?? preset(bank.last_feed, setup, carried?.feed);
    const rig = nextRig(recorder, bank);
    const lay = layIn(bank, carried);
    const isRigIn = bank.wait?.start === 'lower';
    const twins = useTwins(recorder, recorder.live ?? '', bank.same_fish);
    const twin = twins.open[0];

    useEffect(() => {
        recorder.store.draft<Weighing>(DRAFT).then(
            (kept) => {
                setWeighing(kept);
                setIsPadOpen(kept !== undefined && kept.keyed !== '');
            },
            () => undefined, // the bar "NOT SAVED" tells why
        );
    }, [recorder]);
    useEffect(() => {
        if (!strip) return undefined;
        const timer = setTimeout(() => setStrip(undefined), STRIP_MS);
        return () => clearTimeout(timer);
    }, [strip]);
    useEffect(() => {
        if (!isArmed) return undefined;
        const timer = setTimeout(() => setIsArmed(false), ARMED_MS);
        return () => clearTimeout(timer);
    }, [isArmed]);
    useEffect(() => {
        if (keeping.fault === '') setIsHeldOpen(false);
    }, [keeping.fault]);

    const isNow = lay?.isNow ?? false;
    useEffect(() => {
        if (isNow) setSaid('Lower now.');
    }, [isNow]);

    /** Follows an entry until it is stored; then it is said, and felt where the device can. */
    const enter = (entry: Entry, words: string, pulse: number | number[] = 40) => {
        recent.push({ at: performance.now(), event: entry.event });
        if (recent.length > 50) recent.shift();
        void entry.stored.then(() => {
            setSaid(words);
            navigator.vibrate?.(pulse);
        });
        return entry.event;
    };
    const logged = (entry: Entry, word: string) =>
        enter(entry, `${word} logged ${clockOf(entry.event.at).slice(0, 5)}. Cross out is ready.`);

    const outcome = (name: OutcomeWord, word: string) =>
        setStrip(stripAfter(logged(logOutcome(recorder, name), word), setup));
    const feed = () => setStrip(stripAfter(logged(recorder.log('feed', put), 'Feed'), setup));
    const rigIn = () => {
        logged(recorder.log('lower', rig), 'Rig in');
        setStrip(undefined);
    };
    const crossOut = () => {
        const { next } = undo;
        if (!next) return;
        withAdvice(bank.undo, next).forEach(({ id }) =>
            enter(recorder.cross(id), `Crossed out ${next.word} ${next.at_text}. Put back is ready.`, [40, 60, 40]),
        );
        setStrip(undefined);
    };
    const putBack = () => {
        const { back } = undo;
        if (!back) return;
        withAdvice(bank.undo, back).forEach(({ id }) =>
            enter(recorder.restore(id), `${back.word} ${back.at_text} put back.`),
        );
    };
    /** Cross out means the newest entry, also one that the strip cannot name yet; once more before that is done is the same
     * press. */
    const undoNewest = () => {
        const last = recorder.pending.at(-1);
        if (!last) return undo.back ? putBack() : crossOut();
        if (last.kind === 'cross' || last.kind === 'restore') return;
        enter(recorder.cross(stepOf(recorder.pending, undo)), 'Crossed out. Put back is ready.', [40, 60, 40]);
        setStrip(undefined);
    };
    const changeNet = () => logged(recorder.log('net', { net: (bank.net ?? 1) + 1 }), `Net ${(bank.net ?? 1) + 1}`);

    const setLock = (isOn: boolean) => {
        isLockedNow.current = isOn;
        setIsLocked(isOn);
        setIsArmed(false);
        if (isOn) sessionStorage.setItem(LOCK_KEY, '');
        else {
            sessionStorage.removeItem(LOCK_KEY);
            setSweep(undefined);
        }
        setStrip(undefined);
        setAreTabsOpen(false);
        setSaid(isOn ? 'Locked. Hold a button half a second to log.' : 'Open.');
    };
    /** Locks, and offers to take back whatever the burst has entered: rain was found, or Lock pressed, which a drop does too. */
    const lockUp = () => {
        const start = rain.burstStart();
        setLock(true);
        setSweep(reversal(recent.filter(({ at }) => at >= start).map(({ event }) => event)));
    };
    const sweepUp = () => {
        sweep?.cross.forEach((id) => enter(recorder.cross(id), 'Crossed out.'));
        sweep?.restore.forEach((id) => enter(recorder.restore(id), 'Put back.'));
        setSweep(undefined);
    };

    const choose = (i: number) => {
        const choice = strip?.choices[i];
        if (!strip || !choice) return;
        const { id, session, at } = strip.of;
        if (choice.fix) enter(recorder.log('fix', choice.fix, { of: id, session }), `${choice.name}.`);
        if (choice.opensPad) {
            keepWeighing({ of: id, session, word: `Fish ${clockOf(at).slice(0, 5)}`, keyed: '', unit: setup.unit });
            setIsPadOpen(true);
        }
        setStrip(choice.next);
    };

    const keepWeighing = (next: Weighing | undefined) => {
        setWeighing(next);
        recorder.store.setDraft(DRAFT, next).catch(() => undefined); // the bar "NOT SAVED" tells why
    };
    const pad = (key: string) => {
        if (!weighing) return;
        const { keyed, unit, of, session } = weighing;
        const kg = weightKg(keyed, unit);
        if (key === 'pad-open') setIsPadOpen(true);
        else if (key === 'pad-close') {
            setIsPadOpen(false);
            if (keyed === '') keepWeighing(undefined);
        } else if (key === 'pad-unit') keepWeighing({ ...weighing, keyed: '', unit: unit === 'lb' ? 'kg' : 'lb' });
        else if (key.startsWith('key-')) keepWeighing({ ...weighing, keyed: afterKey(keyed, key.slice(4), unit) });
        else if (kg !== undefined) {
            const body = key === 'keep-mass' ? { mass_kg: kg } : { guess_kg: kg };
            enter(recorder.log('fix', body, { of, session }), 'Weight logged.');
            keepWeighing(undefined);
            setIsPadOpen(false);
        }
    };

    const press = (name: string) => {
        const own = OUTCOMES.find((one) => one.name === name);
        if (own) return void outcome(own.name, own.word);
        if (name.startsWith('strip-')) return choose(Number(name.slice(6)));
        if (name.startsWith('pad-') || name.startsWith('key-') || name.startsWith('keep-')) return pad(name);
        if (name.startsWith('go-')) return go(name.slice(3) as Route);
        const acts: Record<string, () => unknown> = {
            feed,
            rig: rigIn,
            undo: undoNewest,
            'undo-more': crossOut,
            back: putBack,
            net: changeNet,
            look: nextLook,
            more: () => setAreTabsOpen(!areTabsOpen),
            held: () => setIsHeldOpen(true),
            sweep: sweepUp,
            'twin-same': () => twin && enter(twins.one(twin), 'One fish: the later entry is crossed out.'),
            'twin-two': () => twin && twins.two(twin),
            unlock: () => setIsArmed(true),
            lock: () => (isLockedNow.current ? isArmed && setLock(false) : lockUp()),
        };
        return void acts[name]?.();
    };
    const flash = (control: HTMLElement) => {
        control.classList.add('hit');
        setTimeout(() => control.classList.remove('hit'), FLASH_MS);
    };
    const latest = useLatest({ press, lockUp });
    useHands(root, {
        isLocked,
        onPress: (name, control) => {
            flash(control);
            latest.current.press(name);
        },
        onContact: (name) => {
            if (isLockedNow.current) return true;
            const hit = OUTCOMES.some((one) => one.name === name)
                ? 'outcome'
                : name === undefined
                  ? 'dead'
                  : /^(undo|undo-more|back)$/.test(name)
                    ? 'undo'
                    : 'other';
            if (!rain.note(performance.now(), hit)) return true;
            latest.current.lockUp();
            return false;
        },
    });
    useKeys((name) => {
        if (name === 'lock') return setLock(!isLockedNow.current);
        const which = name === 'undo' ? '.undo:not([data-press="unlock"])' : `[data-press="${name}"]`;
        root.current?.querySelector<HTMLElement>(which)?.click();
    });

    const ofOutcome = (events: readonly RecordEvent[], name: OutcomeWord) =>
        events.filter(({ kind, body }) => outcomeIn(kind, body) === name).length;
    const heldOf = (name: OutcomeWord) => ofOutcome(keeping.held, name);
    const isCovered = (isPadOpen && weighing !== undefined) || isHeldOpen;
    return (
        <main class={`bank${isTall ? ' tall' : ''}${isLocked ? ' locked' : ''}${areTabsOpen && !isTall ? ' tabs-open' : ''}`} ref={root}>
            <h1 class="hide">Bank{peg && `, peg ${peg}`}</h1>
            <div class="clock">
                <b>
                    {wallClock()} {peg && <span class="peg">Peg {peg}</span>}
                </b>
                <button type="button" class="tabs-more" data-press="more" aria-expanded={areTabsOpen}>
                    More
                </button>
                <LookButton press="look" />
                <button
                    type="button"
                    class="lock"
                    data-press="lock"
                    {...(isLocked && { 'data-free': 'yes' })}
                    aria-pressed={isLocked}
                >
                    {isLocked ? 'Open' : 'Lock'}
                </button>
            </div>
            <div class="ways">
                <Tabs tabs={tabs.filter(({ route }) => WAYS.includes(route))} shown="bank" isByHand />
                {bank.nets.length > 0 && (
                    <button type="button" class="to-net" data-press="net">
                        {`To\nnet ${(bank.net ?? 1) + 1}`}
                    </button>
                )}
            </div>
            {isHeldOpen && (
                <HeldSheet keeping={keeping} onRetry={() => recorder.retry()} onClose={() => setIsHeldOpen(false)} />
            )}
            {!isHeldOpen && isPadOpen && weighing && <Pad weighing={weighing} />}
            {!isCovered && (
                <>
                    <Glance bank={bank} place="glance" />
                    <div class="mid">
                        <Mid
                            {...{ bank, keeping, strip, twin, weighing, lay, isLocked, isArmed }}
                            next={answer ? lineWords(answer) : advice.fault ? 'No advice' : undefined}
                            looked={lookedWords(answer?.at, advice)}
                            fault={recorder.fault}
                            sweep={sweep ? sweep.cross.length + sweep.restore.length : 0}
                        />
                    </div>
                    <UndoStrip undo={undo} isSlow={keeping.isSlow} isLocked={isLocked} />
                    <div class="outcomes">
                        {OUTCOMES.map(({ name, word }) => (
                            <button type="button" key={name} class={`o-${name}`} data-press={name}>
                                <span>{word}</span>
                                <span class="count">
                                    <Mark name={name} />
                                    <span class="c">{bank.counts[name] - ofOutcome(recorder.heldCounted, name)}</span>
                                    {heldOf(name) > 0 && <span class="plus">+{heldOf(name)}</span>}
                                </span>
                            </button>
                        ))}
                    </div>
                </>
            )}
            <div class="feedrow">
                <button type="button" data-press="feed">
                    FEED<span>{feedWords(put, setup)}</span>
                </button>
                <button type="button" data-press="rig" aria-pressed={isRigIn}>
                    RIG IN<span>{isRigIn && bank.wait ? bank.wait.text : (lay?.short ?? rigWords(rig))}</span>
                </button>
            </div>
            <div class="hide" role="status">
                {said}
            </div>
        </main>
    );
}

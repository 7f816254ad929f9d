// The end of a rehearsal: what it came to, what each decision cost against the best other choice, and what was really there. Prices
// take a while: they come a few at a time, and the rest stands there meanwhile.
import { useEffect, useState } from 'preact/hooks';
import { Frame } from '../frame';
import { range } from '../reading';
import { fileStamp, handOver } from '../review/save';
import { capital } from '../words';
import type { Decision, RehearseAnswer } from './answers';
import { before, type Played, type Playing } from './rehearsal';
import { Truth } from './truth';

interface Ended {
    answer?: RehearseAnswer;
    decisions: Decision[];
    fault?: string;
}

/** The price of one decision after another. */
function useEnded({ player }: Playing, { file }: Played): Ended {
    const [ended, setEnded] = useState<Ended>({ decisions: [] });
    useEffect(() => {
        let isOver = false;
        const work = async () => {
            const answer = await player.play(file, { end: true, price: [0, 0] });
            let decisions = answer.decisions ?? [];
            if (!isOver) setEnded({ answer, decisions });
            for (const { choice } of decisions) {
                if (isOver) return;
                const { decisions: some = [] } = await player.play(file, { end: true, price: [choice, choice + 1] });
                decisions = decisions.map((one) => some.find((now) => now.choice === one.choice && now.cost) ?? one);
                if (!isOver) setEnded({ answer, decisions });
            }
        };
        setEnded({ decisions: [] });
        work().catch((reason: Error) => !isOver && setEnded({ decisions: [], fault: reason.message }));
        return () => {
            isOver = true;
        };
    }, [file]);
    return ended;
}

const isWorse = ({ is_best, cost }: Decision) => cost !== null && !is_best && cost.lo > 0;
const costOf = ({ cost }: Decision) => cost?.mid ?? 0;

function Decisions({ ended, onFrom }: { ended: Ended; onFrom: (choice: number) => void }) {
    const { answer, decisions } = ended;
    const n = decisions.filter(({ cost }) => cost).length;
    const isWhole = answer !== undefined && n === decisions.length;
    const worse = decisions.filter(isWorse);
    const [dearest] = [...worse].sort((a, b) => costOf(b) - costOf(a));
    const priced = `${n} ${n === 1 ? 'decision' : 'decisions'} priced, ${worse.length} clearly worse than the best that was tried.`;
    return (
        <section aria-label="Your decisions" aria-busy={!isWhole}>
            <h2>Your decisions</h2>
            <p role="status">{isWhole ? priced : `Working out what they cost: ${n} of ${decisions.length}.`}</p>
            <ol class="decisions">
                {decisions.map((one) => (
                    <li key={one.choice} class={isWhole && one === dearest ? 'dearest' : ''}>
                        <b>
                            {one.at_text} {range(one.chosen)}
                        </b>
                        {one.cost && <p class="r">{one.is_best ? 'The best of what was tried.' : capital(range(one.cost.text))}</p>}
                        {one.cost && !one.is_best && <p class="note">Best tried: {range(one.best ?? '')}</p>}
                        <button type="button" onClick={() => onFrom(one.choice)}>
                            From here again<span class="hide">, {one.at_text}</span>
                        </button>
                    </li>
                ))}
            </ol>
            {isWhole && n === 0 && <p>Nothing was decided that could be priced.</p>}
        </section>
    );
}

interface EndProps {
    playing: Playing;
    played: Played;
    onBack: () => void; // to the water
}

export function End({ playing, played, onBack }: EndProps) {
    const { file, answer: now } = played;
    const ended = useEnded(playing, played);
    const [said, setSaid] = useState('');
    const { answer } = ended;
    const { landed, kg, lost, missed } = now.counts;
    const save = async () => {
        const name = `baitfall-${fileStamp(Date.now())}.rehearsal.json`;
        const isOut = await handOver(name, `${JSON.stringify(file, null, 1)}\n`, 'application/json');
        setSaid(isOut ? 'The rehearsal is a file of its own now. Whoever opens it plays the same day.' : '');
    };
    const again = (seed: number) => playing.open({ ...file, seed, choices: [], until_s: 0 });
    const below = `Simulated. ${file.name ?? 'An invented peg'}, day ${file.seed}, till ${now.now_text}`;
    /** A session gone on from holds the truth that was drawn for this day: another day would need another. */
    const canChangeDay = file.setup['truth'] === undefined;
    return (
        <Frame title="Rehearse" below={below} shown="rehearse" tabs={[]}>
            <div class="rehearse-end">
                <div>
                    <section aria-label="What it came to">
                        <h2>What it came to</h2>
                        <p class="lead">
                            {landed} fish, {kg} kg; {lost} lost, {missed} missed.
                        </p>
                        <p class="note">{now.what}</p>
                        {answer?.sentences?.map((sentence) => <p key={sentence}>{range(sentence)}</p>)}
                        {ended.fault && (
                            <p class="caution" role="alert">
                                {ended.fault}
                            </p>
                        )}
                        <div class="acts">
                            {!now.is_over && (
                                <button type="button" class="main-act" onClick={onBack}>
                                    Go on fishing
                                </button>
                            )}
                            <button type="button" onClick={() => again(file.seed)}>
                                The same day again
                            </button>
                            {canChangeDay && (
                                <button type="button" onClick={() => again(file.seed + 1)}>
                                    Another day
                                </button>
                            )}
                            <button type="button" onClick={() => void save()}>
                                As a file
                            </button>
                            <button type="button" onClick={playing.leave}>
                                Begin another
                            </button>
                        </div>
                        <p class="said" role="status">
                            {said}
                        </p>
                    </section>
                    <Decisions ended={ended} onFrom={(choice) => playing.choose(({ file: was }) => before(was, choice))} />
                </div>
                <div>{answer && <Truth answer={answer} fished={new Set(file.choices.map(({ body }) => body?.['spot']))} />}</div>
            </div>
        </Frame>
    );
}

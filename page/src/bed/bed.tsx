// The Bed: what is known of the feed, and then what the model believes is down there. Facts first; whatever is reckoned says so,
// has its range, and takes the same room before it is there as after.
//   belief.ts  asks, and keeps what was answered last     eye.tsx     less, about right, more
//   ledger.tsx what moved it                               known.tsx   what was logged
import { useState } from 'preact/hooks';
import { useAwake } from '../awake';
import { useSince } from '../bank/since';
import { lookedWords } from '../believing';
import { Frame, type Tab } from '../frame';
import { PictureTable } from '../picture';
import type { Picture } from '../questions';
import { range } from '../reading';
import { useRecorder } from '../record/hooks';
import { capital } from '../words';
import { useBelief, useSpots, type Belief, type PICTURES } from './belief';
import type { BedAnswer } from './answers';
import { Eye } from './eye';
import { Known } from './known';
import { Ledger } from './ledger';

/** As the core says it, before it has. */
const WHAT = 'A model that starts from guesses and learns from your log. Not a measurement.';

interface DrawnProps {
    title: string;
    name: (typeof PICTURES)[number];
    picture: Picture | undefined;
}
/** A drawing in its own room, which is there before it is. */
function Drawn({ title, name, picture }: DrawnProps) {
    return (
        <>
            <div class={`drawn ${name}`}>
                {picture ? (
                    <figure dangerouslySetInnerHTML={{ __html: picture.svg }} />
                ) : (
                    <p class="soft">{title}: no drawing yet</p>
                )}
            </div>
            <div class="drawn-table">{picture && <PictureTable title={title} picture={picture} />}</div>
        </>
    );
}

const ended = (text: string) => (/[.!?]$/.test(text) ? text : `${text}.`);
const said = (...texts: (string | undefined)[]) =>
    texts
        .filter((text) => text !== undefined && text !== '')
        .map((text) => ended(capital(range(text as string))))
        .join(' ');

function RestsOn({ answer }: { answer: BedAnswer }) {
    return (
        <section class="remarks rests">
            <h2>What it rests on</h2>
            <p>{said(answer.rests_on.text)}</p>
            <ul>
                {answer.notes.map(({ code, text }) => (
                    <li key={code}>{text}</li>
                ))}
            </ul>
        </section>
    );
}

function Believing({ belief, spot }: { belief: Belief; spot: string }) {
    const answer = belief.looked?.answer;
    const { pictures } = answer ?? {};
    const mid = answer?.left.mid;
    return (
        <div class="bed" aria-busy={belief.isWorking} data-from={belief.looked?.from_s}>
            <div>
                <Known answer={answer} spot={spot} />
                <section class="reckon" aria-label="Feed left">
                    <h2>{answer?.left.word ? `Feed left: ${answer.left.word}` : 'Feed left'}</h2>
                    <p class="finding">{answer && said(answer.left.text, answer.sentence)}</p>
                    <p class="looking soft">{lookedWords(answer?.at, belief)}</p>
                    {belief.fault && (
                        <p class="caution" role="alert">
                            <b>The bed cannot be worked out.</b> Everything entered is kept. {belief.fault}
                        </p>
                    )}
                    <Eye spot={spot} shown={typeof mid === 'number' ? Math.round(mid) : undefined} />
                    <Drawn title="Feed left" name="left" picture={pictures?.['left']} />
                </section>
            </div>
            <div>
                <section class="reckon" aria-label="Fish on the feed">
                    <h2>{answer?.fish.band ? `Fish: ${answer.fish.band}` : 'Fish'}</h2>
                    <p class="finding">{answer && said(answer.fish.text)}</p>
                    <Drawn title="Fish on the feed" name="fish" picture={pictures?.['fish']} />
                </section>
                <section class="reckon" aria-label="Where it lies">
                    <h2>Where it lies</h2>
                    <p class="finding tall">{pictures?.['above'] && range(pictures['above'].finding)}</p>
                    <Drawn title="Where it lies" name="above" picture={pictures?.['above']} />
                </section>
            </div>
            <div>
                <section>
                    <h2>What this is</h2>
                    <p>{answer?.what ?? WHAT}</p>
                </section>
                <Ledger answer={answer} />
                {answer && <RestsOn answer={answer} />}
            </div>
        </div>
    );
}

interface BedScreenProps {
    session: string;
    tabs: readonly Tab[];
}

export function BedScreen({ session, tabs }: BedScreenProps) {
    const recorder = useRecorder();
    const [picked, setPicked] = useState('');
    const spots = useSpots(session);
    const belief = useBelief(session, picked);
    useSince(recorder, 5000);
    useAwake();
    const spot = picked || (belief.looked?.answer.spot ?? recorder.bank?.spot ?? spots?.[0] ?? '');
    return (
        <Frame title="Bed" below={`${spot ? `${capital(spot)}. ` : ''}Reckoned, not seen`} shown="bed" tabs={tabs}>
            {spots && belief.isReady && (
                <>
                    {spots.length > 1 && (
                        <div class="pick spots" role="group" aria-label="Which spot">
                            {spots.map((name) => (
                                <button
                                    type="button"
                                    key={name}
                                    aria-pressed={name === spot}
                                    onClick={() => setPicked(name)}
                                >
                                    {capital(name)}
                                </button>
                            ))}
                        </div>
                    )}
                    <Believing belief={belief} spot={spot} />
                </>
            )}
        </Frame>
    );
}

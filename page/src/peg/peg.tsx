// At the peg: the drawn peg, depths and wind in; which spot, which rig of those carried, and the first half hour out.
//   today.ts  what is told and asked    start.ts  the session that begins with it    carried.ts  what the Bank takes from it
import { useMemo, useState } from 'preact/hooks';
import { Cautions } from '../cautions';
import type { Tab } from '../frame';
import { FirstNotes, OtherNotes } from '../notes';
import { PictureBox } from '../picture';
import { Reading } from '../reading';
import { useRecorder } from '../record/hooks';
import { Term } from '../terms';
import { capital } from '../words';
import type { PegAnswer, PlanOffer } from '../plan/answers';
import { DEPTH, DISTANCE, TEMPERATURE, inScreenWords } from '../plan/fields';
import { ValueField, WordField, type Editing } from '../plan/inputs';
import { NOT_YET } from '../plan/answer';
import { useLive, type Live } from '../plan/live';
import { OfferedScreen } from '../plan/offered';
import { valuesAt, type Plan, type Values } from '../plan/plan';
import { WindFields, ofSide, ofWind } from '../plan/questions';
import { Stepper } from '../stepper';
import { openWith } from './start';
import { MOST_PLACES, asPlan, fromPlan, requestOf, useToday, withPlace, type Today } from './today';

function PegField({ peg, onPeg }: { peg: string; onPeg: (peg: string) => void }) {
    const n = Number(peg) || 0;
    return (
        <Stepper name="Peg" less="Peg less" more="Peg more" isLeast={n <= 1} onStep={(by) => onPeg(String(Math.max(1, n + by)))}>
            {peg || 'Not told'}
        </Stepper>
    );
}

/** As planned, until it is told otherwise. */
function windNow(plan: Plan, today: Today, { winds, sides }: PlanOffer): Values {
    const wind = winds.find(({ word }) => word === today.wind);
    const side = sides.find(({ word }) => word === today.side);
    return { ...valuesAt(plan, '', 'water'), ...(wind && ofWind(wind)), ...(side && ofSide(side)) };
}

interface PegProps {
    plan: Plan;
    today: Today;
    setToday: (today: Today) => void;
    offer: PlanOffer;
}

function Found({ plan, today, setToday, offer }: PegProps) {
    const editing = (spot: string): Editing => ({
        plan: asPlan(today),
        spot,
        form: offer.form,
        setPlan: (plan) => setToday(fromPlan(today, plan)),
    });
    return (
        <section class="known" aria-label="Today">
            <Cautions />
            <PegField peg={today.peg} onPeg={(peg) => setToday({ ...today, peg })} />
            <WindFields
                offer={offer}
                values={windNow(plan, today, offer)}
                onWind={({ word }) => setToday({ ...today, wind: word })}
                onSide={({ word }) => setToday({ ...today, side: word })}
            />
            <ValueField field={TEMPERATURE} isFull editing={editing('')} />
            {today.places.map(({ id }) => (
                <section class="place" key={id} aria-label={capital(id)}>
                    <h2>{capital(id)}</h2>
                    <ValueField field={DEPTH} editing={editing(id)} />
                    <details>
                        <summary>Where, and what the bottom is</summary>
                        <ValueField field={DISTANCE} editing={editing(id)} />
                        <WordField section="spot" at={{ place: 'spot', key: 'bottom' }} name="Bottom" said={{}} editing={editing(id)} />
                    </details>
                </section>
            ))}
            {today.places.length < MOST_PLACES && (
                <button type="button" onClick={() => setToday(withPlace(today))}>
                    Add a place
                </button>
            )}
        </section>
    );
}

/** "20 s", "7 min", since the start. */
const sinceStart = (s: number) => (s < 120 ? `${s}\u00a0s` : `${Math.round(s / 60)}\u00a0min`);

/** "0.4 g float, bulk of five No 8. Rig 3 of the five you carry." */
const rigWords = ({ rig }: PegAnswer) => `${rig.title}. ${capital(rig.text).replace(/\.$/, '')}.`;

const notesOf = (answer: PegAnswer | undefined) =>
    [answer, answer?.rig, answer?.lay, answer?.aim].flatMap((part) => part?.notes ?? []);

function ComesTo({ live, today }: { live: Live<PegAnswer>; today: Today }) {
    const { answer, isWorking, fault } = live;
    return (
        <section class="answer" aria-busy={isWorking}>
            <h2>{answer?.spot.text ?? 'Where and how'}</h2>
            <p class="hide" role="status">
                {!isWorking && answer && `${answer.spot.text} ${rigWords(answer)}`}
            </p>
            {fault && (
                <p class="caution" role="alert">
                    {inScreenWords(fault, today.places.map(({ id }) => id))}
                </p>
            )}
            {answer && (
                <>
                    <p>{answer.spot.why}</p>
                    {answer.shelf && (
                        <p>
                            <Term name="shelf" />: {answer.shelf.text}
                        </p>
                    )}
                    <div class="reads">
                        <Reading quantity={answer.wait_s} isWorking={isWorking} words={<Term name="wait">wait, then lower</Term>} />
                        {answer.aim && (
                            <Reading
                                quantity={answer.chance ?? NOT_YET}
                                isWorking={isWorking}
                                words={<Term name="n in 10">bait lies on the bed</Term>}
                            />
                        )}
                    </div>
                    <p>
                        <b>{rigWords(answer)}</b> {answer.rig.why}
                    </p>
                    {/* the power lines stand with the cautions of this screen */}
                    <FirstNotes notes={answer.notes.filter(({ code }) => code !== 'power-lines')} />
                    {answer.rig.why_not && answer.rig.why_not.length > 0 && (
                        <details>
                            <summary>Why not others</summary>
                            <ul class="because">
                                {answer.rig.why_not.map((text) => (
                                    <li key={text}>{text}</li>
                                ))}
                            </ul>
                        </details>
                    )}
                </>
            )}
        </section>
    );
}

function HalfHour({ answer }: { answer: PegAnswer }) {
    return (
        <section>
            <h2>First half hour</h2>
            <table aria-label="First half hour">
                <tbody>
                    <tr>
                        <th scope="row">First</th>
                        <td>
                            <b>{answer.first_feed.text}</b>
                        </td>
                    </tr>
                    {answer.half_hour.slice(1).map(({ at_s, text }) => (
                        <tr key={at_s}>
                            <th scope="row">{sinceStart(at_s)}</th>
                            <td>{text}</td>
                        </tr>
                    ))}
                </tbody>
            </table>
        </section>
    );
}

function PegSheet({ offer, plan, today, setToday }: PegProps) {
    const recorder = useRecorder();
    const request = useMemo(() => requestOf(plan, today), [plan, today]);
    const live = useLive<PegAnswer>('peg', request);
    const [fault, setFault] = useState('');
    const [isStarting, setIsStarting] = useState(false);
    const { answer } = live;
    const start = () => {
        if (!answer) return;
        setIsStarting(true);
        setFault('');
        // The shell goes to the Bank as soon as the session is open.
        openWith({ recorder, plan, today, answer, offer }).catch((reason: Error) => {
            setFault(reason.message);
            setIsStarting(false);
        });
    };
    const picture = answer?.pictures?.['section'];
    return (
        <div class="plan">
            <Found plan={plan} today={today} setToday={setToday} offer={offer} />
            <div class="comes-to">
                <ComesTo live={live} today={today} />
                <div class="pictures">{picture && <PictureBox title="Shotting" picture={picture} />}</div>
                <div class="lists">
                    {answer && <HalfHour answer={answer} />}
                    <OtherNotes notes={notesOf(answer)} />
                </div>
            </div>
            <div class="start-now">
                {fault && (
                    <p class="caution" role="alert">
                        {fault}
                    </p>
                )}
                <button type="button" class="main-act" disabled={!answer || isStarting} onClick={start}>
                    Start
                </button>
            </div>
        </div>
    );
}

function WithToday({ offer, plan }: { offer: PlanOffer; plan: Plan }) {
    const { today, setToday } = useToday(useRecorder(), plan);
    return <>{today && <PegSheet offer={offer} plan={plan} today={today} setToday={setToday} />}</>;
}

export function PegScreen({ tabs }: { tabs: readonly Tab[] }) {
    return (
        <OfferedScreen
            title="At the peg"
            below="The drawn peg, today's wind"
            shown="peg"
            tabs={tabs}
            show={(offer, plan) => <WithToday offer={offer} plan={plan} />}
        />
    );
}

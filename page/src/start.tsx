// Start at the peg: where, what FEED puts in, what the day is to be; and what came of it last time here. The cautions stand
// on the way, and starting is the acknowledgement. Only the button is needed: everything else can be told later, in the Log.
import { useEffect, useState } from 'preact/hooks';
import { Cautions } from './cautions';
import { around } from './choice';
import { Frame, Waits } from './frame';
import { kitMember, loadKit, offeredWith, type Kit } from './kit/kit';
import { bodyOf, faultWords, fieldsOf, type Field, type Values } from './log/fields';
import { ask, type Answer, type CatalogueEntry } from './questions';
import { instant } from './record/line';
import { useAsked, useRecorder } from './record/hooks';
import { saveSetup, type Setup } from './setup';
import { Stepper } from './stepper';

interface Offer {
    baits: CatalogueEntry[];
    pots: CatalogueEntry[];
}

/** What can be typed of a session: where and with what, and then how the day is meant. */
const FIELDS = fieldsOf('open').filter(({ as }) => as !== 'note');
const N_FIRST = FIELDS.findIndex(({ key }) => key === 'hook_bait') + 1;

/** What came of it last time at this water and peg; nothing where nothing is known. */
function LastTime({ venue, peg, now }: { venue: string; peg: string; now: string }) {
    const { answer } = useAsked<{ lines: string[] }>('peg', { venue, ...(peg && { peg }), now });
    if (!answer || answer.lines.length === 0) return null;
    return (
        <section aria-label="Last time here">
            <h2>Last time here</h2>
            {answer.lines.map((line) => (
                <p key={line}>{line}</p>
            ))}
        </section>
    );
}

export function StartScreen({ setup, onSetup }: { setup: Setup; onSetup: (setup: Setup) => void }) {
    const recorder = useRecorder();
    const [opened] = useState(() => instant(Date.now()));
    const [offer, setOffer] = useState<Offer>();
    const [pot, setPot] = useState<Answer>();
    const [typed, setTyped] = useState<Values>({ venue: recorder.bank?.session?.venue ?? '' }); // where it was last
    const [fault, setFault] = useState('');
    const [isStarting, setIsStarting] = useState(false);
    const fail = (reason: Error) => setFault(reason.message);
    const [kit, setKit] = useState<Kit>();
    useEffect(() => void loadKit(recorder).then(setKit, () => setKit({})), [recorder]); // a store that does not open is told at home
    useEffect(() => {
        if (kit) void ask<Offer>('pot', 'catalogue', {}).then((offer) => setOffer(offeredWith(kit, offer)), fail);
    }, [kit]);
    useEffect(() => {
        if (kit) void ask<Answer>('pot', 'pot', { bait: setup.bait, pot: setup.pot, ...kitMember(kit) }).then(setPot, fail);
    }, [kit, setup.bait, setup.pot]);

    const open = async () => {
        void navigator.storage?.persist?.().catch(() => false); // a "no" is told with the copies
        const volume = pot?.inputs['pot']?.['volume_m3'];
        const now = { ...setup, ...(typeof volume === 'number' && { pot_m3: volume }) };
        onSetup(now);
        saveSetup(recorder, now).catch(() => undefined); // told by the bar "NOT SAVED"
        // The shell goes to the Bank as soon as the session is open.
        recorder.log('open', await recorder.read('open', bodyOf('open', typed)));
    };
    const start = () => {
        setIsStarting(true);
        setFault('');
        open().catch((reason: Error) => {
            setFault(faultWords('open', reason.message));
            setIsStarting(false);
        });
    };

    const text = (field: Field) => (
        <label class="text" key={field.key}>
            <span class="name">{field.name}</span>
            <input
                value={typed[field.key] ?? ''}
                maxLength={48}
                placeholder={field.as === 'amount' ? (field.hint ?? '') : ''}
                onInput={(event) => setTyped({ ...typed, [field.key]: event.currentTarget.value })}
            />
        </label>
    );
    const venue = typed['venue']?.trim() ?? '';
    const bait = offer?.baits.find(({ word }) => word === setup.bait)?.title ?? setup.bait;
    return (
        <Frame title="Start" below="At the peg" shown="start" tabs={[]}>
            <div class="start">
                <Cautions />
                {FIELDS.slice(0, N_FIRST).map(text)}
                {venue && <LastTime venue={venue} peg={typed['peg']?.trim() ?? ''} now={opened} />}
                {!offer && !fault && <Waits />}
                {offer && (
                    <>
                        <Stepper
                            name="Feed"
                            less="Feed before"
                            more="Feed after"
                            onStep={(by) => onSetup({ ...setup, bait: around(offer.baits, setup.bait, by) })}
                        >
                            {bait}
                        </Stepper>
                        <Stepper
                            name="Pot"
                            less="Pot smaller"
                            more="Pot larger"
                            onStep={(by) => onSetup({ ...setup, pot: around(offer.pots, setup.pot, by) })}
                        >
                            {setup.pot}
                        </Stepper>
                    </>
                )}
                {fault && (
                    <p class="caution" role="alert">
                        {fault}
                    </p>
                )}
                <details>
                    <summary>Hours, nets, aim</summary>
                    <div class="start">{FIELDS.slice(N_FIRST).map(text)}</div>
                </details>
                <div class="start-now">
                    <button type="button" class="main-act" disabled={isStarting || !pot} onClick={start}>
                        Start
                    </button>
                </div>
            </div>
        </Frame>
    );
}

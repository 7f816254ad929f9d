// Start at the peg: where, and what FEED puts in. The cautions stand here, and starting is the acknowledgement.
import { useEffect, useState } from 'preact/hooks';
import { Frame } from './frame';
import { ask, type Answer, type CatalogueEntry, type Note } from './questions';
import { useRecorder } from './record/hooks';
import { saveSetup, type Setup } from './setup';
import { Stepper } from './stepper';
import type { Step } from './choice';

interface Offer {
    baits: CatalogueEntry[];
    pots: CatalogueEntry[];
}

const around = (list: CatalogueEntry[], word: string, by: Step): string => {
    const at = list.findIndex((entry) => entry.word === word);
    return (list[(at + by + list.length) % list.length] as CatalogueEntry).word;
};

export function StartScreen({ setup, onSetup }: { setup: Setup; onSetup: (setup: Setup) => void }) {
    const recorder = useRecorder();
    const [offer, setOffer] = useState<Offer>();
    const [pot, setPot] = useState<Answer>();
    const [venue, setVenue] = useState('');
    const [peg, setPeg] = useState('');
    const [isStarting, setIsStarting] = useState(false);
    useEffect(() => void ask<Offer>('pot', 'catalogue', {}).then(setOffer), []);
    useEffect(
        () => void ask<Answer>('pot', 'pot', { bait: setup.bait, pot: setup.pot }).then(setPot),
        [setup.bait, setup.pot],
    );
    const notes = ((pot?.notes ?? []) as Note[]).filter(({ code }) => code === 'power-lines');

    const start = () => {
        setIsStarting(true);
        void navigator.storage?.persist?.().catch(() => false); // a "no" is told with the copies
        const pot_m3 = Number(pot?.inputs['pot']?.['volume_m3'] ?? setup.pot_m3);
        const now = { ...setup, pot_m3 };
        onSetup(now);
        saveSetup(recorder, now).catch(() => undefined); // told by the bar "NOT SAVED"
        // The shell goes to the Bank as soon as the session is open.
        recorder.log('open', { ...(venue && { venue }), ...(peg && { peg }) });
    };
    const bait = offer?.baits.find(({ word }) => word === setup.bait)?.title ?? setup.bait;
    return (
        <Frame title="At the peg" below="Start a session" shown="start" tabs={[]}>
            <div class="start">
                {notes.map(({ text }) => (
                    <div class="caution" key={text}>
                        <p>{text}</p>
                    </div>
                ))}
                <label class="text">
                    <span class="name">Water</span>
                    <input value={venue} maxLength={48} onInput={(event) => setVenue(event.currentTarget.value)} />
                </label>
                <label class="text">
                    <span class="name">Peg</span>
                    <input value={peg} maxLength={16} onInput={(event) => setPeg(event.currentTarget.value)} />
                </label>
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
                <button type="button" class="main-act" disabled={isStarting} onClick={start}>
                    Start
                </button>
            </div>
        </Frame>
    );
}

// Settings, all in one place: hand, units, keys, screen. Each is on this device only.
import { useState } from 'preact/hooks';
import { screenChoice, setScreenChoice } from '../awake';
import { KEYED, areKeysOn, chooseKey, keysNow, setKeys } from '../bank/keys';
import { ChipsField } from '../chips';
import { Frame, type Tab } from '../frame';
import { LOOKS, useLook } from '../look';
import { useRecorder } from '../record/hooks';
import { saveSetup, type Setup } from '../setup';
import { capital } from '../words';
import { chooseHand, hand, type Hand } from './hand';
import { QUANTITIES, chooseUnit, unitOf, type Quantity } from './units';

const ON_OFF = [
    ['on', 'On'],
    ['off', 'Off'],
] as const;

/** A row of chips for something that is read and written somewhere else. */
function Choice({ label, choices, read, write, note }: {
    label: string;
    choices: readonly (readonly [word: string, said: string])[];
    read: () => string;
    write: (word: string) => void;
    note?: string;
}) {
    const [chosen, setChosen] = useState(read);
    const choose = (word: string) => {
        write(word);
        setChosen(word);
    };
    return <ChipsField label={label} isEven choices={choices} chosen={chosen} onChoose={choose} {...(note && { note })} />;
}

function Units({ setup, onSetup }: { setup: Setup; onSetup: (setup: Setup) => void }) {
    const recorder = useRecorder();
    const weigh = (unit: string) => {
        const next = { ...setup, unit: unit as Setup['unit'] };
        onSetup(next);
        saveSetup(recorder, next).catch(() => undefined); // a store that does not open is told at home
    };
    return (
        <section>
            <h2>Units</h2>
            <p class="note">
                What you see between steppers and type without a unit. Typed with its unit any amount is taken. What is worked out
                is told in metric units whatever is chosen here: m, cm, g, {'\u00b0'}C, m/s; fish in lb and oz.
            </p>
            {(Object.keys(QUANTITIES) as Quantity[]).map((quantity) => (
                <Choice
                    key={quantity}
                    label={QUANTITIES[quantity].name}
                    choices={QUANTITIES[quantity].units.map((one) => [one.word, one.isFeet ? 'ft, in' : one.unit] as const)}
                    read={() => unitOf(quantity).word}
                    write={(word) => chooseUnit(quantity, word)}
                />
            ))}
            <Choice label="Fish on the scales" choices={[['lb', 'lb, oz'], ['kg', 'kg']]} read={() => setup.unit} write={weigh} />
        </section>
    );
}

const WORDS: Record<string, string> = { ' ': 'Space', ArrowLeft: 'Left', ArrowRight: 'Right', ArrowUp: 'Up', ArrowDown: 'Down' };
const keyWords = (key = '') => WORDS[key] ?? (key.length === 1 ? key.toUpperCase() : key);
const NOT_KEYS = ['Tab', 'Escape', 'Shift', 'Control', 'Alt', 'AltGraph', 'Meta', 'CapsLock', 'Unidentified'];

function Keys() {
    const [keys, setKeysNow] = useState(keysNow);
    const [waiting, setWaiting] = useState('');
    const [said, setSaid] = useState('');
    const give = (event: KeyboardEvent, name: string, word: string) => {
        if (waiting !== name) return;
        if (event.key !== 'Tab') event.preventDefault();
        if (event.key === 'Escape' || event.key === 'Tab') return setWaiting('');
        if (NOT_KEYS.includes(event.key)) return;
        chooseKey(name, event.key);
        setKeysNow(keysNow());
        setWaiting('');
        setSaid(`${word} is ${keyWords(keysNow()[name])} now.`);
    };
    const reset = () => {
        chooseKey();
        setKeysNow(keysNow());
        setSaid('All keys are as they were at first.');
    };
    return (
        <section>
            <h2>Keys and clickers</h2>
            <p class="note">On the Bank, from a keyboard or a clicker that sends keys. Press one below, then the key that it is to have.</p>
            <Choice label="Keys" choices={ON_OFF} read={() => (areKeysOn() ? 'on' : 'off')} write={(word) => setKeys(word === 'on')} />
            <div class="acts key-acts">
                {KEYED.map(({ name, word }) => (
                    <button
                        type="button"
                        key={name}
                        aria-pressed={waiting === name}
                        onClick={() => setWaiting(name)}
                        onKeyDown={(event) => give(event, name, word)}
                        onBlur={() => setWaiting('')}
                    >
                        <span>{word}</span>{' '}
                        <b>{waiting === name ? 'press a key' : keyWords(keys[name])}</b>
                    </button>
                ))}
            </div>
            <p class="said" role="status">
                {said}
            </p>
            <button type="button" onClick={reset}>
                The first keys again
            </button>
        </section>
    );
}

function Look() {
    const { look, put } = useLook();
    return (
        <ChipsField
            label="Look of the screen"
            isEven
            choices={LOOKS.map((one) => [one, capital(one)] as const)}
            chosen={look}
            onChoose={put}
            note="Sun: black on white, all bold. Dusk: light on dark. The button at the top of every screen does the same."
        />
    );
}

interface SettingsProps {
    setup: Setup;
    onSetup: (setup: Setup) => void;
    tabs: readonly Tab[];
}

export function SettingsScreen({ setup, onSetup, tabs }: SettingsProps) {
    return (
        <Frame title="Settings" below="On this device only" shown="settings" tabs={tabs}>
            <div class="settings">
                <section>
                    <h2>Hand and screen</h2>
                    <Choice
                        label="The hand that presses"
                        choices={[['left', 'Left'], ['right', 'Right']]}
                        read={hand}
                        write={(word) => chooseHand(word as Hand)}
                        note="With the left one all that is pressed changes sides, FEED and RIG IN too."
                    />
                    <Look />
                    <Choice
                        label="Screen in a session"
                        choices={[['on', 'Stays on'], ['phone', 'As the phone has it']]}
                        read={screenChoice}
                        write={(word) => setScreenChoice(word === 'phone' ? 'phone' : 'on')}
                    />
                    <p class="note">
                        Larger letters: set the text size of the phone or the zoom of the browser; every screen goes along to twice the size.
                    </p>
                </section>
                <Units setup={setup} onSetup={onSetup} />
                <Keys />
            </div>
        </Frame>
    );
}

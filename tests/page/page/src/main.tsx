import { render } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { InstallButton } from './install';
import { nextLook, remember, rememberedLook, wear } from './look';
import { startOffline } from './offline';
import { Quick } from './quick';

const LOOK_WORDS = { sun: 'Sun', shade: 'Shade', dusk: 'Dusk' };

function LookButton() {
    const [look, setLook] = useState(rememberedLook);
    useEffect(() => wear(look), [look]);
    const change = () => {
        const next = nextLook(look);
        remember(next);
        setLook(next);
    };
    return (
        <button type="button" class="look" aria-label={`${LOOK_WORDS[look]}, look of the screen`} onClick={change}>
            {LOOK_WORDS[look]}
        </button>
    );
}

function ThisDevice() {
    const [words, setWords] = useState('Ready offline: looking.');
    useEffect(() => void startOffline().then(setWords), []);
    return (
        <section>
            <h2>On this device</h2>
            <p class="note aside">{words}</p>
            <InstallButton />
        </section>
    );
}

function App() {
    return (
        <>
            <header class="top">
                <svg class="level" viewBox="0 0 26 40" width="26" height="40" aria-hidden="true">
                    <path d="M4 20H22L13 38.5Z" />
                    <path d="M8 46H18M10.5 50H15.5" />
                </svg>
                <div class="title">
                    <h1>In the pot</h1>
                    <p>From pot to bottom</p>
                </div>
                <LookButton />
            </header>
            <main>
                <Quick />
                <ThisDevice />
            </main>
        </>
    );
}

wear(rememberedLook());
render(<App />, document.getElementById('app') as HTMLElement);

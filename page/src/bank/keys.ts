// Keys for a keyboard or a clicker: 1 to 6 the outcomes, F feed, I rig in, U cross out, L lock, until others are chosen. They
// can be switched off, and never act while something is being typed.
import { useEffect, useRef } from 'preact/hooks';
import { OUTCOMES } from './marks';

const ON_KEY = 'baitfall.keys';
const CHOSEN_KEY = 'baitfall.keys.chosen';

export const areKeysOn = (): boolean => localStorage.getItem(ON_KEY) !== 'off';
export const setKeys = (isOn: boolean): void => localStorage.setItem(ON_KEY, isOn ? 'on' : 'off');

/** What keys do, in the order of the screen. */
export const KEYED: readonly { name: string; word: string; key: string }[] = [
    ...OUTCOMES.map(({ name, word }, i) => ({ name, word, key: String(i + 1) })),
    { name: 'feed', word: 'FEED', key: 'f' },
    { name: 'rig', word: 'RIG IN', key: 'i' },
    { name: 'undo', word: 'Cross out', key: 'u' },
    { name: 'lock', word: 'Lock', key: 'l' },
];

/** The key of each, by its name. */
export function keysNow(): Record<string, string> {
    const keys = Object.fromEntries(KEYED.map(({ name, key }) => [name, key]));
    try {
        const chosen = Object(JSON.parse(localStorage.getItem(CHOSEN_KEY) ?? '{}')) as Record<string, unknown>;
        for (const { name } of KEYED) if (typeof chosen[name] === 'string') keys[name] = chosen[name];
    } catch (fault) {
        if (!(fault instanceof SyntaxError)) throw fault;
    }
    return keys;
}

/** Gives it another key; what had that key takes the older one. Undefined: all have their first keys again. */
export function chooseKey(name?: string, pressed = ''): void {
    if (!name) return localStorage.removeItem(CHOSEN_KEY);
    const keys = keysNow();
    const key = plain(pressed);
    const other = KEYED.find((one) => keys[one.name] === key);
    if (other) keys[other.name] = keys[name] ?? '';
    localStorage.setItem(CHOSEN_KEY, JSON.stringify({ ...keys, [name]: key }));
}

const plain = (key: string) => (key.length === 1 ? key.toLowerCase() : key);

export function useKeys(onPress: (name: string) => void): void {
    const latest = useRef(onPress);
    latest.current = onPress;
    useEffect(() => {
        const down = (event: KeyboardEvent) => {
            if (event.repeat || event.ctrlKey || event.altKey || event.metaKey || !areKeysOn()) return;
            if ((event.target as Element).closest('input, textarea, select, [contenteditable], dialog')) return;
            const keys = keysNow();
            const name = KEYED.find((one) => keys[one.name] === plain(event.key))?.name;
            if (!name) return;
            event.preventDefault();
            latest.current(name);
        };
        addEventListener('keydown', down);
        return () => removeEventListener('keydown', down);
    }, []);
}

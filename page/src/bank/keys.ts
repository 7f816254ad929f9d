// Keys for a keyboard or a clicker: 1 to 6 the outcomes, F feed, I rig in, U cross out, L lock. They can be switched off,
// and never act while something is being typed.
import { useEffect, useRef } from 'preact/hooks';
import { OUTCOMES } from './marks';

const STORE_KEY = 'baitfall.keys';

export const areKeysOn = (): boolean => localStorage.getItem(STORE_KEY) !== 'off';
export const setKeys = (isOn: boolean): void => localStorage.setItem(STORE_KEY, isOn ? 'on' : 'off');

const NAMES: Record<string, string> = { f: 'feed', i: 'rig', u: 'undo', l: 'lock' };
OUTCOMES.forEach(({ name }, i) => (NAMES[String(i + 1)] = name));

export function useKeys(onPress: (name: string) => void): void {
    const latest = useRef(onPress);
    latest.current = onPress;
    useEffect(() => {
        const down = (event: KeyboardEvent) => {
            const isTyping = (event.target as Element).closest('input, textarea, select, [contenteditable], dialog');
            const name = NAMES[event.key.toLowerCase()];
            if (!name || isTyping || event.repeat || event.ctrlKey || event.altKey || event.metaKey || !areKeysOn())
                return;
            event.preventDefault();
            latest.current(name);
        };
        addEventListener('keydown', down);
        return () => removeEventListener('keydown', down);
    }, []);
}

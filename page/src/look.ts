// The three looks. The one chosen last is remembered; the first time the device's own light or dark decides.
import { useEffect, useState } from 'preact/hooks';

export const LOOKS = ['sun', 'shade', 'dusk'] as const;
export type Look = (typeof LOOKS)[number];

const KEY = 'baitfall.look';

function rememberedLook(): Look {
    const kept = LOOKS.find((look) => look === localStorage.getItem(KEY));
    return kept ?? (matchMedia('(prefers-color-scheme: dark)').matches ? 'dusk' : 'shade');
}

let worn = rememberedLook();
const listeners = new Set<(look: Look) => void>();

export function wear(look: Look = worn): void {
    worn = look;
    document.documentElement.dataset['look'] = look;
    for (const listener of listeners) listener(look);
}

/** The look worn, and how to put on the next one. */
export function useLook(): { look: Look; next: () => void } {
    const [look, setLook] = useState(worn);
    useEffect(() => {
        listeners.add(setLook);
        return () => void listeners.delete(setLook);
    }, []);
    const next = () => {
        const after = LOOKS[(LOOKS.indexOf(worn) + 1) % LOOKS.length] ?? 'shade';
        localStorage.setItem(KEY, after);
        wear(after);
    };
    return { look, next };
}

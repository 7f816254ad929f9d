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

/** The look worn, and how to put on another, or the next one. */
export function useLook(): { look: Look; put: (look: string) => void; next: () => void } {
    const [look, setLook] = useState(worn);
    useEffect(() => {
        listeners.add(setLook);
        return () => void listeners.delete(setLook);
    }, []);
    const put = (word: string) => {
        localStorage.setItem(KEY, word);
        wear(rememberedLook());
    };
    const next = () => put(LOOKS[(LOOKS.indexOf(worn) + 1) % LOOKS.length] ?? 'shade');
    return { look, put, next };
}

// The three looks. The one chosen last is remembered; the first time the device's own light or dark decides.
export const LOOKS = ['sun', 'shade', 'dusk'] as const;
export type Look = (typeof LOOKS)[number];

const KEY = 'baitfall.look';

export function rememberedLook(): Look {
    const kept = LOOKS.find((look) => look === localStorage.getItem(KEY));
    return kept ?? (matchMedia('(prefers-color-scheme: dark)').matches ? 'dusk' : 'shade');
}

export function nextLook(look: Look): Look {
    return LOOKS[(LOOKS.indexOf(look) + 1) % LOOKS.length] ?? 'shade';
}

export function wear(look: Look): void {
    document.documentElement.dataset['look'] = look;
}

export function remember(look: Look): void {
    localStorage.setItem(KEY, look);
}

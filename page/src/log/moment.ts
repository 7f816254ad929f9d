// When something happened, as the sheet puts it: minutes before a held instant, or a clock typed in. The held instant is
// that of opening the sheet (or the entry's own) and never moves.

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

/** The chips: minutes before the held instant, and the give or take that goes with a guess that old, s (common practice:
 * live taps are off by some seconds, and remembered times by more the longer ago; no source). */
export const CHIPS = [
    { minutes: 0, pm_s: 5 },
    { minutes: 1, pm_s: 20 },
    { minutes: 2, pm_s: 30 },
    { minutes: 5, pm_s: 60 },
    { minutes: 10, pm_s: 120 },
] as const;
/** A clock typed in is good to about this, s (common practice, no source). */
export const TYPED_PM_S = 30;

/** Steps of "give or take", s. */
export const PMS = [2, 5, 10, 20, 30, 60, 120, 300, 600, 900, 1800, 3600] as const;

export const pmWords = (s: number): string => (s < 60 ? `${Math.round(s)} s` : `${Math.round(s / 6) / 10} min`);

/** Minutes that the local clock is ahead of UTC in "...+01:00". */
export function eastMinOf(text: string): number {
    const [, sign = '+', hours = '0', minutes = '0'] = /([+-])(\d\d):(\d\d)$/.exec(text) ?? [];
    return (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes));
}

/** "11:42:07" by the local clock that is so far ahead. */
export const clockText = (ms: number, eastMin: number): string =>
    new Date(ms + eastMin * MINUTE_MS).toISOString().slice(11, 19);

/** "11:42", "11:42:07" or "1142" as ms of the day; undefined: no clock. */
export function clockMs(text: string): number | undefined {
    const [, h, m, s = '0'] = /^(\d{1,2})[:.]?(\d\d)(?:[:.](\d\d))?$/.exec(text.trim()) ?? [];
    if (h === undefined || Number(h) > 23 || Number(m) > 59 || Number(s) > 59) return undefined;
    return ((Number(h) * 60 + Number(m)) * 60 + Number(s)) * 1000;
}

/** The instant nearest to `nearMs` at which the local clock shows that. */
export function instantAt(ofDayMs: number, nearMs: number, eastMin: number): number {
    const local = nearMs + eastMin * MINUTE_MS;
    const sameDay = local - (((local % DAY_MS) + DAY_MS) % DAY_MS) + ofDayMs - eastMin * MINUTE_MS;
    return sameDay - Math.round((sameDay - nearMs) / DAY_MS) * DAY_MS;
}

export const clockFault = (name: string, text: string): string =>
    `${name} is "${text}"; accepted is a clock from 00:00 to 23:59, as 11:42 or 11:42:07.`;

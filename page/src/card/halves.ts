// A paper card's half hours, and the events that its tallies come to.
import type { Body } from '../record/line';
import { instant, type RecordEvent } from '../record/line';
import type { Recorder } from '../record/record';

export const HALF_MS = 1_800_000;
/** Give or take of anything known to the half hour only, s: half of it. */
export const HALF_PM_S = 900;
/** Most half hours of a card: a day. */
export const MOST_HALVES = 48;

/** The tallies of a row; `feed` is how many put-ins. */
export const TALLIES = [
    ['landed', 'Fish'],
    ['missed', 'Missed'],
    ['lost', 'Lost'],
    ['touch', 'Touch'],
    ['foul', 'Foul'],
    ['nothing', 'Nothing'],
    ['feed', 'FEED'],
] as const;

export interface Card {
    day: string; // "2026-04-12"
    from: string; // "09:00"
    nHalves: number;
    venue: string;
    peg: string;
    bait: string;
    cells: Record<string, string>; // "3 landed": what stands in the row of half hour 3
}

export const cellKey = (half: number, tally: string): string => `${half} ${tally}`;

/** The first instant of the card, by this device's clock; NaN while day or hour cannot be read. */
export function cardStartMs({ day, from }: Card): number {
    return /^\d{1,2}:\d\d$/.test(from) ? new Date(`${day}T${from.padStart(5, '0')}:00`).getTime() : NaN;
}

/** What a cell counts; throws the sentence when it is no count. */
function countOf(card: Card, half: number, tally: string, name: string, clock: string): number {
    const text = (card.cells[cellKey(half, tally)] ?? '').trim();
    if (!/^\d{0,4}$/.test(text)) throw new Error(`${name} at ${clock} is "${text}"; accepted is a whole number from 0 to 9999.`);
    return Number(text);
}

interface Half {
    fromMs: number;
    counts: Body; // of those that are not 0
    nFeeds: number;
}

/** The rows with something in them. Throws the sentence about the first that cannot be read. */
export function halvesOf(card: Card): Half[] {
    const startMs = cardStartMs(card);
    if (Number.isNaN(startMs)) throw new Error(`From is "${card.from}"; accepted is a clock from 00:00 to 23:59.`);
    return Array.from({ length: card.nHalves }, (_, i) => {
        const fromMs = startMs + i * HALF_MS;
        const clock = instant(fromMs).slice(11, 16);
        const all = TALLIES.map(([key, name]) => [key, countOf(card, i, key, name, clock)] as const);
        const counts = Object.fromEntries(all.filter(([key, n]) => key !== 'feed' && n > 0)) as Body;
        return { fromMs, counts, nFeeds: all.find(([key]) => key === 'feed')?.[1] ?? 0 };
    }).filter(({ counts, nFeeds }) => nFeeds > 0 || Object.keys(counts).length > 0);
}

/** Logs the card into a session: a tally a half hour, put-ins spread evenly over theirs, all good to the half hour.
 * @param put  what each put-in was, as the core reads it */
export function logCard(recorder: Recorder, halves: readonly Half[], session: string, put: Body): RecordEvent[] {
    const events: RecordEvent[] = [];
    const options = (atMs: number) => ({ session, atMs: recorder.onClock(atMs, session), pm_s: HALF_PM_S });
    for (const { fromMs, counts, nFeeds } of halves) {
        const end = (ms: number) => instant(recorder.onClock(ms, session));
        if (Object.keys(counts).length > 0) {
            const body = { from: end(fromMs), to: end(fromMs + HALF_MS), ...counts };
            events.push(recorder.log('tally', body, options(fromMs + HALF_MS / 2)).event);
        }
        for (let i = 0; i < nFeeds; i++)
            events.push(recorder.log('feed', put, options(Math.round(fromMs + ((i + 0.5) / nFeeds) * HALF_MS))).event);
    }
    return events;
}

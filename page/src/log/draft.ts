// A sheet that is being filled in. It is kept after every key, so that no way out of a sheet loses what was typed: another
// screen, the back button, another entry, a closed page.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Row } from '../record/answers';
import type { Body, Kind } from '../record/line';
import type { Recorder } from '../record/record';
import { bodyOf, valuesOf, type Values } from './fields';
import { CHIPS, clockFault, clockMs, clockText, eastMinOf, instantAt } from './moment';

export interface Draft {
    key: string; // the entry's id, or what is added to which session
    session: string;
    kind: Kind;
    word: string; // "Missed"
    of?: string; // the entry that is put right
    heldMs: number; // corrected scale
    eastMin: number;
    pmAtStart: number;
    start: Values;
    pot_m3?: number; // the pot that is meant when bait is counted in pots
    // what is typed:
    minutes: number; // before heldMs
    clock: string; // typed, '' when the chips hold
    pm_s: number;
    values: Values;
}

/** @param pot_m3  what a pot is when the entry has none */
export function draftOfRow(row: Row, session: string, pot_m3: number | undefined): Draft {
    const start = valuesOf(row.kind, { ...row.body, ...(row.note && { note: row.note }) });
    return {
        key: row.id,
        session,
        kind: row.kind,
        word: row.word,
        of: row.id,
        heldMs: Date.parse(row.at),
        eastMin: eastMinOf(row.at),
        pmAtStart: row.pm_s,
        start,
        ...(row.body['pot_m3'] === undefined && pot_m3 !== undefined && { pot_m3 }),
        minutes: 0,
        clock: '',
        pm_s: row.pm_s,
        values: start,
    };
}

export const addKey = (word: string, session: string): string => `add ${word} to ${session}`;

export function draftToAdd(kind: Kind, word: string, session: string, nowMs: number, body: Body): Draft {
    const values = valuesOf(kind, body);
    return {
        key: addKey(word, session),
        session,
        kind,
        word,
        heldMs: nowMs,
        eastMin: -new Date(nowMs).getTimezoneOffset(),
        pmAtStart: CHIPS[0].pm_s,
        start: values,
        ...(typeof body['pot_m3'] === 'number' && { pot_m3: body['pot_m3'] }),
        minutes: 0,
        clock: '',
        pm_s: CHIPS[0].pm_s,
        values,
    };
}

/** True when closing it would leave something unsaid. */
export const isTouched = (draft: Draft): boolean =>
    draft.minutes !== 0 ||
    draft.clock !== '' ||
    draft.pm_s !== draft.pmAtStart ||
    Object.keys({ ...draft.values, ...draft.start }).some((key) => (draft.values[key] ?? '') !== (draft.start[key] ?? ''));

/** The instant that the sheet says. Throws the sentence when a clock cannot be read. */
export function momentOf({ heldMs, eastMin, minutes, clock }: Draft): number {
    if (clock === '') return heldMs - minutes * 60_000;
    const ofDay = clockMs(clock);
    if (ofDay === undefined) throw new Error(clockFault('Time', clock));
    return instantAt(ofDay, heldMs, eastMin);
}

/** A stretch: both ends, and the middle with its half-width for the entry's own instant. */
export function stretchOf({ heldMs, eastMin, values }: Draft): { fromMs: number; toMs: number; atMs: number; pm_s: number } {
    const end = (key: string, name: string) => {
        const ofDay = clockMs(values[key] ?? '');
        if (ofDay === undefined) throw new Error(clockFault(name, values[key] ?? ''));
        return instantAt(ofDay, heldMs, eastMin);
    };
    const fromMs = end('from', 'From');
    const toMs = end('to', 'To');
    if (toMs <= fromMs) throw new Error(`To is ${clockText(toMs, eastMin)}; accepted is any clock after From.`);
    return { fromMs, toMs, atMs: (fromMs + toMs) / 2, pm_s: (toMs - fromMs) / 2000 };
}

/** What is to be logged for it, with text yet to be read by the core. */
export function bodyTyped({ kind, values, start, of, pot_m3 }: Draft): Body {
    const body = bodyOf(kind, values, of ? start : {});
    return body['fill_frac'] !== undefined && pot_m3 !== undefined ? { ...body, pot_m3 } : body;
}

const KEY = 'log';

/** The sheets that are open or were left with something in them. */
export function useDrafts(recorder: Recorder) {
    const [drafts, setDrafts] = useState<Draft[]>([]);
    const latest = useRef(drafts);
    useEffect(() => {
        recorder.store.draft<Draft[]>(KEY).then(
            (kept) => {
                const own = latest.current;
                latest.current = [...(kept ?? []).filter(({ key }) => !own.some((one) => one.key === key)), ...own];
                setDrafts(latest.current);
            },
            () => undefined, // the bar "NOT SAVED" tells why
        );
    }, [recorder]);

    const change = (next: Draft[]) => {
        latest.current = next;
        setDrafts(next);
        const kept = next.filter(isTouched);
        recorder.store.setDraft(KEY, kept.length > 0 ? kept : undefined).catch(() => undefined); // as above
    };
    return {
        drafts,
        put: (draft: Draft) => change([...latest.current.filter(({ key }) => key !== draft.key), draft]),
        drop: (key: string) => change(latest.current.filter((one) => one.key !== key)),
    };
}

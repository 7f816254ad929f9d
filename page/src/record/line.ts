// One line of the journal (docs/formats.md): what an event is, and how this page writes one.
// Knows nothing of storage or screens. An event never changes: what was wrong is put right by further events.

export type Kind =
    | 'open'
    | 'close'
    | 'plumb'
    | 'water'
    | 'box'
    | 'feed'
    | 'lower'
    | 'touch'
    | 'lift'
    | 'net'
    | 'tally'
    | 'look'
    | 'advice'
    | 'ask'
    | 'note'
    | 'clock'
    | 'cross'
    | 'restore'
    | 'fix';

/** How a drop ended. A touch ends none: it is a kind of its own. */
export type Outcome = 'landed' | 'lost' | 'missed' | 'foul' | 'nothing';

/** The members of a body, in the order of lines. Names are text, choices words, numbers SI with their unit. */
const BODY_KEYS = [
    'spot',
    'hook_bait',
    'bait',
    'species',
    'venue',
    'peg',
    'plan',
    'put',
    'count',
    'volume_m3',
    'fill_frac',
    'pot_m3',
    'mass_kg',
    'how',
    'over_s',
    'wide_m',
    'n',
    'outcome',
    'held',
    'size',
    'guess_kg',
    'net',
    'nets',
    'net_limit_kg',
    'target_kg',
    'hours',
    'from',
    'to',
    'landed',
    'lost',
    'missed',
    'foul',
    'nothing',
    'touch',
    'eye',
    'shown',
    'what',
    'done',
    'odds_frac',
    'look_s',
    'distance_m',
    'side_m',
    'depth_m',
    'bottom',
    'temp_c',
    'wind_m_s',
    'wind_height_m',
    'wind_side_deg',
    'fetch_m',
    'surface_drift_m_s',
    'undertow_m_s',
    'jump_s',
    'at',
    'pm_s',
    'note',
] as const;
export type Body = Partial<Record<(typeof BODY_KEYS)[number], string | number>>;

export interface RecordEvent {
    v: 1;
    id: string; // 32 hex digits
    session: string; // the id of the session's `open`
    dev: string; // 8 hex digits: this browser on this device
    run: string; // 8 hex digits: one start of the page
    seq: number; // one more than the largest seen
    mono_ms?: number; // since the run started
    kind: Kind;
    at: string; // when it happened: an instant
    pm_s: number; // give or take of it
    rec: string; // when it was entered
    of?: string; // cross, restore, fix: the event meant
    body: Body;
}

/** Give or take of a press as it happens, s (common practice: live taps are off by a few seconds). */
export const LIVE_PM_S = 5;

export function hexOf(nBytes: number): string {
    const bytes = crypto.getRandomValues(new Uint8Array(nBytes));
    return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

const two = (value: number) => String(value).padStart(2, '0');

/** "2026-04-12T09:31:05.120+01:00": the instant with the offset that the local clock has then. */
export function instant(ms: number): string {
    const eastMin = -new Date(ms).getTimezoneOffset();
    const local = new Date(ms + eastMin * 60_000).toISOString().slice(0, 23);
    const [hours, minutes] = [Math.floor(Math.abs(eastMin) / 60), Math.abs(eastMin) % 60];
    return `${local}${eastMin < 0 ? '-' : '+'}${two(hours)}:${two(minutes)}`;
}

/** "11:42:07" of an instant, by the local clock that it was written with. */
export const clockOf = (text: string): string => text.slice(11, 19);

/** The body with its members in the order of lines, and only those given. */
export function ordered(body: Body): Body {
    return Object.fromEntries(
        BODY_KEYS.filter((key) => body[key] !== undefined).map((key) => [key, body[key] as string | number]),
    );
}

/** The event as its line of the journal. */
export function lineOf(event: RecordEvent): string {
    const { v, id, session, dev, run, seq, mono_ms, kind, at, pm_s, rec, of, body } = event;
    return JSON.stringify({ v, id, session, dev, run, seq, mono_ms, kind, at, pm_s, rec, of, body: ordered(body) });
}

export const eventOf = (line: string): RecordEvent => JSON.parse(line) as RecordEvent;

/** A rehearsal's lines are of none: no store takes them. */
export const NO_DEVICE = '00000000';

/** A line with an id, of a device: it is kept even when this version does not understand it. */
export function isEntry(line: string): boolean {
    try {
        const { id, dev } = Object(eventOf(line)) as Partial<RecordEvent>;
        return /^[0-9a-f]{32}$/.test(String(id)) && dev !== NO_DEVICE;
    } catch {
        return false;
    }
}

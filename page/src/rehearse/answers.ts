// The shape of the answer to "rehearse" (docs/formats.md). It comes from the core; nothing is worked out here.
export interface Shown {
    t_s: number;
    at_text: string; // "09:05:02"
    kind: 'feed' | 'lower' | 'touch' | 'lift';
    choice: number | null; // of which choice it came; null: it showed
    outcome?: string;
    word: string; // "Fish"
    detail: string; // "0.53 kg"
}
export interface Moment {
    t_s: number;
    at_text: string;
    near: number;
    left: number[]; // by spot
    fish: number[]; // on the bait, by spot
}
export interface Parameter {
    name: string;
    value: number;
    usual: number;
    unit: string;
    of: 'day' | 'venue' | 'angler';
    what: string;
}
export interface Decision {
    choice: number;
    t_s: number;
    at_text: string;
    chosen: string;
    cost: { mid: number; lo: number; hi: number; text: string } | null; // null: not priced yet
    // when priced:
    best?: string;
    is_best?: boolean;
}
export interface RehearseAnswer {
    setup?: Record<string, unknown>; // to be asked with from now on
    what: string;
    session: string;
    now_s: number;
    now: string;
    now_text: string;
    ends_s: number;
    ends_text: string;
    is_over: boolean;
    rig: { in: boolean; spot: string; hook_bait: string; since_s: number | null };
    counts: Record<'landed' | 'lost' | 'missed' | 'foul' | 'touch' | 'kg', number>;
    spots: string[];
    baits: string[];
    baits_short: string[]; // what a button says for them
    hook_baits: string[];
    hook_baits_short: string[];
    events: Shown[];
    lines: string[]; // a journal of its own; never stored
    // at the end:
    truth?: {
        parameters: Parameter[];
        series: Moment[];
    };
    decisions?: Decision[];
    sentences?: string[];
}

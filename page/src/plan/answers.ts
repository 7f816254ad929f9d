// The shapes of the answers to "plan" and "peg" (docs/formats.md). They come from the core; nothing is worked out here.
import type { CatalogueEntry, FormField, Note, Picture, Quantity } from '../questions';

export interface Chance {
    within_5cm: number;
    within_10cm: number;
    within_15cm: number;
    text: string; // "7 in 10"
}
/** What to mend first, best first. */
export interface Mend {
    input: string;
    text: string;
    share_frac: number;
    gain_m: number;
}
export interface Suggestion {
    what: string;
    choice: string;
    because: string;
    runner_up?: string;
    why_not?: string;
}
export interface Link {
    part: string;
    holds_n: Quantity;
    gives_first_frac: number;
}
export interface RigAnswer {
    id: string | null;
    is_suggested?: boolean;
    title: string;
    record?: object;
    set_m?: number;
    chain?: Link[];
    notes?: Note[];
    error?: string; // why it has no balance; then nothing else is answered
    [output: string]: unknown;
}
export interface SpotAnswer {
    spot: string;
    name?: string;
    rig?: RigAnswer;
    lay: { down_s: Quantity; settled_s: Quantity; feed_s: Quantity; wait_s: Quantity; notes?: Note[] } | null;
    aim: { miss_m?: Quantity; chance?: Chance; mend?: Mend[]; notes?: Note[] } | null;
    suggestions?: Suggestion[];
    pictures?: Record<string, Picture>;
}
export interface WhatIf {
    what: string;
    spot: string;
    text: string;
}
export interface CarriedRig {
    title: string;
    needed_frac: number;
    text: string;
    covers: string;
}
export interface PlanAnswer {
    name?: string;
    spots: SpotAnswer[];
    what_if?: WhatIf[];
    unknown_peg?: { rigs: CarriedRig[]; uncovered_frac: number; notes?: Note[] };
    prep?: { at_s: number; at: string | null; at_text: string; bait: string; text: string }[];
    pack?: { what: string; id: string; name: string; count: number; spare: number; text: string }[];
    rules?: { rule: string; status: 'kept' | 'broken' | 'look'; text: string }[];
    pictures?: Record<string, Picture>;
    ics?: string; // when it was asked for
    inputs: Record<string, unknown>;
    notes: Note[];
}

export interface PegAnswer {
    spot: { spot: string; text: string; why: string };
    shelf: { text: string } | null;
    rig: RigAnswer & { text: string; why?: string; why_not?: string[] }; // why: of those that are carried
    first_feed: { bait: string; text: string };
    half_hour: { at_s: number; text: string }[];
    lay: { notes?: Note[] } | null;
    aim: { notes?: Note[] } | null;
    wait_s: Quantity;
    chance?: Chance; // with its ranges
    pictures?: Record<string, Picture>;
    notes: Note[];
}

/** A wind in words and what it is taken for. */
export interface WindWord {
    word: string;
    wind_m_s: number;
    pm: number;
}
export interface SideWord {
    word: string;
    wind_side_deg: number;
    pm: number;
}
/** What can be chosen, as the core says it. */
export interface PlanOffer {
    baits: CatalogueEntry[];
    pots: CatalogueEntry[];
    rigs: (CatalogueEntry & { inputs: Record<string, unknown> })[];
    shots: { word: string; mass_kg: number }[];
    winds: WindWord[];
    sides: SideWord[];
    form: Record<string, FormField[]>;
}

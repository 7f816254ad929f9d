// The shapes of the answers that look back (docs/formats.md).
import type { Note, Picture } from '../questions';
import type { SessionOf } from '../record/answers';

export interface Table {
    name: string;
    title: string;
    finding: string;
    heads: string[];
    rows: string[][];
}
export interface Review {
    session: SessionOf | null;
    sentences: string[];
    try: string;
    try_rule: string;
    tables: Table[];
    pictures?: Record<string, Picture>; // those asked for; none while there is nothing to draw
    notes: Note[];
}
export interface Season {
    sentences: string[];
    n_sessions: number;
    tables: Table[];
    notes: Note[];
}

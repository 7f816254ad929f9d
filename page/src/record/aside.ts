// A second place for what could not be written to the store: presses that are held outlive a page that crashes or is closed. One
// key for each run of the page; the store knows events by id, so that none is doubled by being written from here too.
import { isEntry } from './line';

const PREFIX = 'baitfall.held.';

/** What this run holds now; none takes the key away. */
export function putAside(run: string, lines: readonly string[]): void {
    const key = PREFIX + run;
    try {
        if (lines.length > 0) localStorage.setItem(key, lines.join('\n'));
        else if (localStorage.getItem(key) !== null) localStorage.removeItem(key);
    } catch (fault) {
        console.warn('Held on the screen alone:', fault); // it is full too; the screen says what is held
    }
}

/** What earlier runs held to their end: the lines, and how to let go of them once they are stored. */
export function leftAside(): { lines: string[]; drop: () => void }[] {
    const keys = Object.keys(localStorage).filter((key) => key.startsWith(PREFIX));
    return keys.map((key) => ({
        lines: (localStorage.getItem(key) ?? '').split('\n').filter(isEntry),
        drop: () => localStorage.removeItem(key),
    }));
}

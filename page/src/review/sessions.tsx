// Which session is looked back on: a list of all, newest first.
import { useEffect, useState } from 'preact/hooks';
import type { Bank, SessionOf } from '../record/answers';
import { Waits } from '../frame';
import { useRecorder } from '../record/hooks';
import { eventOf } from '../record/line';
import type { Recorder } from '../record/record';
import { pick } from '../shown';

const MOST = 100;

export interface Named extends SessionOf {
    at: string; // as it was entered
}

/** The newest sessions; what is known of each is the core's answer. */
export async function sessionsOf(recorder: Recorder): Promise<Named[]> {
    const opens = (await recorder.everything()).filter((line) => line.includes('"kind":"open"')).map(eventOf);
    const ats = new Map(opens.map(({ id, at }) => [id, at]));
    const newest = [...ats].sort(([, a], [, b]) => Date.parse(b) - Date.parse(a)).slice(0, MOST);
    const answers = await Promise.all(newest.map(([session]) => recorder.ask<Bank>('bank', { session })));
    return answers.flatMap(({ session }) => (session ? [{ ...session, at: ats.get(session.id) ?? '' }] : []));
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** "26 Nov 2026, 9:34" by the clock that the instant was written with. */
export function dayWords(text: string): string {
    const [year, month, day] = text.slice(0, 10).split('-').map(Number);
    return `${day} ${MONTHS[(month ?? 1) - 1]} ${year}, ${Number(text.slice(11, 13))}:${text.slice(14, 16)}`;
}

export const placeWords = ({ venue, peg }: Pick<SessionOf, 'venue' | 'peg'>): string =>
    [venue, peg && `peg ${peg}`].filter(Boolean).join(', ') || 'no place named';

const optionWords = (session: Named) =>
    session.opened ? `${dayWords(session.opened)}: ${placeWords(session)}` : `${dayWords(session.at)}: crossed out`;

export function SessionPicker({ shown }: { shown: string | undefined }) {
    const recorder = useRecorder();
    const [sessions, setSessions] = useState<Named[]>();
    useEffect(() => {
        sessionsOf(recorder).then(setSessions, () => setSessions([])); // the screen says why nothing can be asked
    }, [recorder, recorder.version]);
    if (!sessions) return <Waits />;
    if (sessions.length < (shown ? 2 : 1)) return null;
    return (
        <label class="text picker">
            <span class="name">Session</span>
            <select value={shown ?? ''} onChange={(event) => pick(event.currentTarget.value)}>
                {!shown && <option value="">none</option>}
                {sessions.map((one) => (
                    <option key={one.id} value={one.id}>
                        {optionWords(one)}
                    </option>
                ))}
            </select>
        </label>
    );
}

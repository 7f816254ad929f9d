// The belief about the bed, kept in step with the journal while the Bed is looked at.
import { useEffect, useMemo, useState } from 'preact/hooks';
import { believe, eventsOf, useLooking, type Looked, type Looking } from '../believing';
import { useLook } from '../look';
import { useRecorder } from '../record/hooks';
import type { BedAnswer } from './answers';

export const PICTURES = ['left', 'fish', 'above'] as const;

export type Belief = Looking<Looked<BedAnswer>>;

/** The spots that the session speaks of, in order of their first mention; undefined until they are known. */
export function useSpots(session: string): string[] | undefined {
    const recorder = useRecorder();
    const [spots, setSpots] = useState<string[]>();
    useEffect(() => {
        recorder.everything().then(
            (lines) => {
                const named = eventsOf(lines, session).map(({ body }) => body['spot']);
                setSpots([...new Set(named.filter((spot) => typeof spot === 'string'))]);
            },
            () => setSpots([]), // the bar "NOT SAVED" tells why
        );
    }, [recorder, session, recorder.version]);
    return spots;
}

/** @param spot  '': the one fished last */
export function useBelief(session: string, spot: string): Belief {
    const recorder = useRecorder();
    const { look } = useLook();
    const asked = useMemo(() => ({ spot, look }), [session, spot, look]);
    return useLooking(
        asked,
        (one) => believe<BedAnswer>(recorder, 'bed', session, one.spot, { pictures: PICTURES, look: one.look }),
        'bed',
        ({ answer }) => answer.session.id === session && (spot === '' || answer.spot === spot),
    );
}

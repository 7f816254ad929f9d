// Which session is looked back on: the one picked, else the open or the last one.
import { useEffect, useState } from 'preact/hooks';
import type { Recorder } from './record/record';

let picked: string | undefined;
const listeners = new Set<(session: string | undefined) => void>();

export function pick(session: string | undefined): void {
    picked = session;
    for (const listener of listeners) listener(session);
}

/** The session picked, or the open or last one; undefined: there is none. */
export function useShown(recorder: Recorder): string | undefined {
    const [session, setSession] = useState(picked);
    useEffect(() => {
        listeners.add(setSession);
        return () => void listeners.delete(setSession);
    }, []);
    return session ?? recorder.bank?.session?.id;
}

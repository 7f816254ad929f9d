// Asks again how long ago things were, as often as the digits on the screen can show a difference and no oftener. Nothing
// counts up here: each time the journal is asked at the instant it is then.
import { useEffect } from 'preact/hooks';
import type { Span } from '../record/answers';
import type { Recorder } from '../record/record';

const YOUNG_S = 120;
const OLD_S = 600;

/** Ms until the next look: each second while a number under two minutes is shown, then every 5 s, every 15 s when only
 * minutes are shown. */
function pause(spans: readonly (Span | null | undefined)[], least: number): number {
    const youngest = Math.min(...spans.map((span) => span?.s ?? Infinity));
    return Math.max(least, youngest < YOUNG_S ? 1000 : youngest < OLD_S ? 5000 : 15_000);
}

export function useSince(recorder: Recorder, least = 0): void {
    const { bank } = recorder;
    useEffect(() => {
        if (document.hidden) return undefined; // the recorder asks when the page is seen again
        const timer = setTimeout(() => void recorder.refresh(), pause([bank?.fed, bank?.bite, bank?.wait], least));
        return () => clearTimeout(timer);
    }, [recorder, bank, least]);
}

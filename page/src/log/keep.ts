// From a filled-in sheet to one event: an entry of its own, or a fix of the entry it is about.
import type { Body } from '../record/line';
import { instant } from '../record/line';
import type { Entry, Recorder } from '../record/record';
import { bodyTyped, momentOf, stretchOf, type Draft } from './draft';

interface When {
    atMs: number;
    pm_s: number;
    ends?: Body; // of a stretch
}

function whenOf(draft: Draft, recorder: Recorder): When {
    if (draft.kind !== 'tally') return { atMs: momentOf(draft), pm_s: draft.pm_s };
    const { fromMs, toMs, atMs, pm_s } = stretchOf(draft);
    const end = (ms: number) => instant(recorder.onClock(ms, draft.session));
    return { atMs, pm_s, ends: { from: end(fromMs), to: end(toMs) } };
}

/** What a fix says of the time: nothing, when it has not been changed. */
function timeChanges(draft: Draft, { atMs, pm_s, ends }: When, recorder: Recorder): Body {
    const isSameStretch = draft.values['from'] === draft.start['from'] && draft.values['to'] === draft.start['to'];
    if (ends && isSameStretch) return {};
    const at = instant(recorder.onClock(atMs, draft.session));
    return {
        ...ends,
        ...(atMs !== draft.heldMs && { at }),
        ...(pm_s !== draft.pmAtStart && { pm_s }),
    };
}

/** Logs it. Undefined: nothing has been changed. Rejects with the sentence that says what cannot be read. */
export async function keep(draft: Draft, recorder: Recorder): Promise<Entry | undefined> {
    const when = whenOf(draft, recorder);
    const { session, kind, of } = draft;
    if (of === undefined) {
        const body = await recorder.read(kind, { ...bodyTyped(draft), ...when.ends });
        return recorder.log(kind, body, { session, atMs: recorder.onClock(when.atMs, session), pm_s: when.pm_s });
    }
    const changed = { ...bodyTyped(draft), ...timeChanges(draft, when, recorder) };
    if (Object.keys(changed).length === 0) return undefined;
    return recorder.log('fix', await recorder.read('fix', changed), { of, session });
}

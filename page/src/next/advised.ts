// What the Bank makes of advice: a line, what FEED puts in, where RIG IN is; and the entries of having followed it or not.
import { preset, timesFeed } from '../bank/acts';
import type { Act as Entered, Bank, LastFeed } from '../record/answers';
import type { Body } from '../record/line';
import type { Entry, Recorder } from '../record/record';
import type { Setup } from '../setup';
import type { Act, Action, NextAnswer } from './answers';

const WORDS = { feed: 'Feed', wait: 'Hold', move: 'Move' } as const;

/** At most fifteen letters: "Feed 20 now", "Hold or feed". */
export function lineWords({ action, either }: NextAnswer): string {
    if (!action) return 'No advice yet';
    if (!either || either.what === action.what) return action.short;
    return `${WORDS[action.what]} or ${WORDS[either.what].toLowerCase()}`;
}

/** The advised put-in; counted as the last one of that way was, where that is known: in pots, when it came from a pot.
 * Undefined: nothing goes in. */
export function feedOf(action: Action, last: LastFeed | null | undefined, setup: Setup, planned?: Body): Body | undefined {
    const { bait, count, how, spot, times } = action;
    if (bait === null || count === null) return undefined;
    const before: Body = preset(last, setup, planned);
    const isThatWay = before['bait'] === bait && before['how'] === how && (before['spot'] ?? last?.spot ?? '') === spot;
    const own: Body = { ...(spot && { spot }), bait, ...(how !== undefined && { how }) };
    if (!isThatWay || times == null || !(last || planned)) return { ...own, count };
    const { pot_m3 } = before;
    const amount = asTipped(times === 1 ? amountOf(before) : timesFeed(before, times));
    return { ...own, ...amount, ...(pot_m3 !== undefined && amount['fill_frac'] !== undefined && { pot_m3 }) };
}

/** A pot is filled by quarters: an amount near one of them is that one. */
function asTipped(amount: Body): Body {
    const fill = Number(amount['fill_frac']);
    const quarters = Math.round(4 * fill) / 4;
    return quarters > 0 && Math.abs(quarters / fill - 1) < 0.15 ? { fill_frac: quarters } : amount;
}

function amountOf({ count, volume_m3, fill_frac }: Body): Body {
    if (count !== undefined) return { count };
    return volume_m3 !== undefined ? { volume_m3 } : { fill_frac: fill_frac ?? 1 };
}

/** What FEED puts in by the advice: at this spot, and given since it was last fed. */
export function advisedFeed(
    answer: NextAnswer | undefined,
    recorder: Recorder,
    setup: Setup,
    planned?: Body,
): Body | undefined {
    const bank = recorder.bank as Bank;
    const action = answer?.action;
    if (!action || action.what === 'move' || (bank.spot ?? action.spot) !== action.spot) return undefined;
    const fedMs = bank.fed?.s == null ? -Infinity : recorder.bankMs - 1000 * bank.fed.s;
    return Date.parse(action.at) < fedMs ? undefined : feedOf(action, bank.last_feed, setup, planned);
}

/** Where the rig goes in next, and with what on the hook, when that is another than before. */
function rigOf({ spot, hook_bait }: Act, bank: Bank): Body | undefined {
    const body = {
        ...(spot && spot !== (bank.spot ?? '') && { spot }),
        ...(hook_bait && hook_bait !== (bank.hook_bait ?? '') && { hook_bait }),
    };
    return Object.keys(body).length > 0 ? body : undefined;
}

interface Rig {
    of: string; // the entry of the advice
    body: Body;
    hook?: string; // what is said for its hook bait
}
const KEY = 'rig';
let rig: Rig | undefined;

export async function loadRig(recorder: Recorder): Promise<void> {
    rig = await recorder.store.meta<Rig>(KEY).catch(() => undefined); // the bar "NOT SAVED" tells why
}
export function keepRig(recorder: Recorder, of: string, body: Body, hook?: string): void {
    rig = { of, body, ...(hook !== undefined && { hook }) };
    recorder.store.setMeta(KEY, rig).catch(() => undefined); // as above
}

/** What RIG IN says after a move or a change of bait, until the rig is in or the advice is crossed out. */
export function nextRig(recorder: Recorder, bank: Bank): Body {
    if (!rig) return {};
    const { of, body } = rig;
    const advice = bank.undo.find(({ id }) => id === of);
    if (!advice) return recorder.pending.some(({ id }) => id === of) ? body : {};
    const isIn = ({ kind, is_crossed, seq }: Entered) => kind === 'lower' && !is_crossed && seq > advice.seq;
    const isGoingIn = recorder.pending.some(({ kind }) => kind === 'lower');
    return advice.is_crossed || isGoingIn || bank.undo.some(isIn) ? {} : body;
}

/** Where it goes in next, when that is another place or another bait. */
export const rigWords = ({ spot, hook_bait }: Body): string =>
    spot !== undefined ? `at ${spot}` : hook_bait !== undefined ? (rig?.hook ?? String(hook_bait)) : 'out';

export type Done = 'did' | 'other';

/** The entry of what was advised and what became of it. The odds said and the next look are counted where it was followed. */
export function logAdvice(recorder: Recorder, { action, odds }: NextAnswer, done: Done): Entry {
    const { what, spot, bait, count, how, look_again } = action as Action;
    const look_s = look_again === null ? 0 : Math.round((Date.parse(look_again) - recorder.now()) / 1000);
    return recorder.log('advice', {
        ...(spot && { spot }),
        ...(bait !== null && { bait }),
        ...(count !== null && { count }),
        ...(bait !== null && how !== undefined && { how }),
        what,
        done,
        ...(odds && look_s > 0 && { odds_frac: odds.p }),
        ...(look_s > 0 && { look_s }),
    });
}

/** Did it: the advice, and the very put-in when it is one. The put-in is entered last, so that cross out means both. */
export function logDone(recorder: Recorder, answer: NextAnswer, feed: Body | undefined): Entry {
    const action = answer.action as Action;
    const advice = logAdvice(recorder, answer, 'did');
    const put = action.what !== 'wait' && feed;
    const goes = rigOf(action, recorder.bank as Bank);
    if (goes && action.what !== 'wait') keepRig(recorder, advice.event.id, goes, action.hook_short);
    return put ? recorder.log('feed', put) : advice;
}

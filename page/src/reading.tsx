// One computed quantity: its middle large, its range as a gauge and in words.
import type { ComponentChildren } from 'preact';
import type { Quantity } from './questions';
import { inputWords } from './words';

/** A range in words as it is set: an en dash between its ends, a true minus sign. */
export const range = (words: string): string =>
    words.replace(/(\d)-(\d)/g, '$1\u2013$2').replace(/(^|[ (])-(\d)/g, '$1\u2212$2');

/** "12 s (10-15)" taken apart for setting: its middle, its unit, and the range with an en dash. */
export function parts(text: string): { middle: string; unit: string; range: string } {
    const [, middle = text, unit = '', ends = ''] = /^(\S+)(?: ([^(]+?))?(?: \((.+)\))?$/.exec(text) ?? [];
    return { middle, unit, range: range(ends) };
}

// The central 20, 40, 60 and 80 % of a bell curve, as parts of the way from its middle to its 10 or 90 % point.
const STRIPS = [1, 0.657, 0.409, 0.198];
const LEFT = 1;
const RIGHT = 29;

/** Four nested strips from zero at the left end, ticks at the ends of the range, a heavy one at the middle. */
function Gauge({ mid, lo, hi }: { mid: number; lo: number; hi: number }) {
    const least = Math.min(0, lo);
    const most = hi + 0.25 * (hi - least);
    const x = (value: number) => LEFT + ((RIGHT - LEFT) * (value - least)) / (most - least);
    const tick = (value: number, top: number) => `M${x(value).toFixed(2)} ${top}V${6 - top}`;
    return (
        <svg class="gauge" viewBox="0 0 30 6" aria-hidden="true">
            <path d={`M${LEFT} 3H${RIGHT}M${LEFT} 1.8V4.2`} />
            {STRIPS.map((part) => {
                const from = x(mid + (lo - mid) * part);
                const to = x(mid + (hi - mid) * part);
                return <rect key={part} x={from.toFixed(2)} y="1" width={(to - from).toFixed(2)} height="4" />;
            })}
            <path class="end" d={tick(lo, 0.6) + tick(hi, 0.6)} />
            <path class="middle" d={tick(mid, 0)} />
        </svg>
    );
}

interface ReadingProps {
    quantity: Pick<Quantity, 'text'> & Partial<Quantity>;
    unit?: string;
    words: ComponentChildren;
    isWorking?: boolean; // its range is still being worked out
}

export function Reading({ quantity, unit, words, isWorking }: ReadingProps) {
    const { middle, unit: ownUnit, range } = parts(quantity.text);
    const { mid = null, lo = null, hi = null } = quantity;
    return (
        <div class="read">
            <div class="n">
                {middle}
                <small>{unit ?? ownUnit}</small>
            </div>
            {range && !isWorking && (
                <div class="range">
                    {mid !== null && lo !== null && hi !== null && hi > lo && <Gauge mid={mid} lo={lo} hi={hi} />}
                    <span>({range})</span>
                </div>
            )}
            {isWorking && <div class="range working">working</div>}
            <div class="w">{words}</div>
            {quantity.mostly && <div class="note soft mostly">range mostly from {inputWords(quantity.mostly)}</div>}
        </div>
    );
}

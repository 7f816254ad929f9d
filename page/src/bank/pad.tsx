// The weigh pad: digits large enough for wet thumbs. What is keyed is kept as a draft until it is committed, whatever is
// pressed meanwhile, and even if the page is closed.
import { weightKg, weightWords, type WeightUnit } from './weight';

export interface Weighing {
    of: string; // the fish
    word: string; // "Fish 11:42"
    session: string;
    keyed: string;
    unit: WeightUnit;
}

const DIGITS = ['1', '2', '3', '4', '5', '6', '7', '8', '9'];

export function Pad({ weighing }: { weighing: Weighing }) {
    const { keyed, unit, word } = weighing;
    const isWeight = weightKg(keyed, unit) !== undefined;
    return (
        <section class="pad" aria-label={`Weigh ${word}`}>
            <div class="pad-head">
                <b>{word}</b>
                <button type="button" data-press="pad-unit" aria-label={`${unit === 'lb' ? 'lb oz' : 'kg'}, unit`}>
                    {unit === 'lb' ? 'lb oz' : 'kg'}
                </button>
                <button type="button" data-press="pad-close">
                    Close
                </button>
            </div>
            <output class="keyed" aria-live="polite">
                {weightWords(keyed, unit)}
            </output>
            <div class="digits">
                {DIGITS.map((digit) => (
                    <button type="button" key={digit} data-press={`key-${digit}`}>
                        {digit}
                    </button>
                ))}
                <button type="button" data-press={unit === 'lb' ? 'key--' : 'key-.'}>
                    {unit === 'lb' ? 'lb' : '.'}
                </button>
                <button type="button" data-press="key-0">
                    0
                </button>
                <button type="button" data-press="key-back" aria-label="take back the last digit">
                    {'\u2190'}
                </button>
            </div>
            <div class="pad-keep">
                <button type="button" data-press="keep-mass" aria-disabled={!isWeight}>
                    Weighed
                </button>
                <button type="button" data-press="keep-guess" aria-disabled={!isWeight}>
                    A guess
                </button>
            </div>
        </section>
    );
}

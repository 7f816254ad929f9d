// The two numbers that are looked for: how long ago was fed, how long ago was a bite. The Bank and the Rest screen show them.
import type { Bank, Span } from '../record/answers';

/** "2:10" or "12 min": the figures large, the unit small. */
function Digits({ span }: { span: Span | null }) {
    const [, figures = '\u2013', unit = ''] = /^(\S+)(?: (.+))?$/.exec(span?.s == null ? '' : span.text) ?? [];
    return (
        <div class="n">
            {figures}
            {unit && <small>{unit}</small>}
        </div>
    );
}

function Ago({ word, span }: { word: string; span: Span | null }) {
    return (
        <div>
            <div class="l">
                {word} <span class="ago">ago</span>
            </div>
            <Digits span={span} />
        </div>
    );
}

export function Glance({ bank, place }: { bank: Bank; place: string }) {
    return (
        <div class={place}>
            <Ago word="FED" span={bank.fed} />
            <Ago word="BITE" span={bank.bite} />
        </div>
    );
}

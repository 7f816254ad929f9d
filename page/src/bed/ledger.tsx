// What moved the feed left: put in, as logged; gone, as reckoned, with its range.
import { clockOf } from '../record/line';
import { range } from '../reading';
import type { BedAnswer, Believed } from './answers';

/** "−26 (14–37)". */
function gone({ mid, lo, hi }: Pick<Believed, 'mid' | 'lo' | 'hi'>): string {
    if (mid === null || lo === null || hi === null) return '\u2013';
    const whole = Math.round;
    if (whole(hi) === 0) return '0';
    return `${whole(mid) === 0 ? '0' : `\u2212${whole(mid)}`} (${whole(lo)}\u2013${whole(hi)})`;
}

export function Ledger({ answer }: { answer: BedAnswer | undefined }) {
    const rows = answer?.ledger ?? [];
    return (
        <section aria-label="What moved it">
            <h2>What moved it</h2>
            <div class="scroll" tabIndex={0} role="region" aria-label="What moved it, ledger">
                <table class="ledger">
                    <caption>Pieces: + put in, {'\u2212'} gone by our reckoning, with the range 8 times in 10.</caption>
                    <thead>
                        <tr>
                            <th scope="col">From</th>
                            <th scope="col">What</th>
                            <th scope="col" class="num">
                                In
                            </th>
                            <th scope="col" class="num">
                                Gone till the next
                            </th>
                        </tr>
                    </thead>
                    <tbody>
                        {rows.map((row) => (
                            <tr key={row.from}>
                                <td>{clockOf(row.from).slice(0, 5)}</td>
                                <td>{row.what}</td>
                                <td class="num">{row.in ? `+${Math.round(row.in)}` : ''}</td>
                                <td class="num r">{gone(row.gone)}</td>
                            </tr>
                        ))}
                        {answer && rows.length === 0 && (
                            <tr>
                                <td colSpan={4}>Nothing yet.</td>
                            </tr>
                        )}
                    </tbody>
                    {answer && rows.length > 0 && (
                        <tfoot>
                            <tr>
                                <th scope="row" colSpan={2}>
                                    Left now
                                </th>
                                <td class="num r" colSpan={2}>
                                    <b>{range(answer.left.text)}</b>
                                </td>
                            </tr>
                        </tfoot>
                    )}
                </table>
            </div>
        </section>
    );
}

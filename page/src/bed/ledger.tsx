// What moved the feed left: put in, as logged; gone, as reckoned, with its range.
import { clockOf } from '../record/line';
import type { BedAnswer, Believed } from './answers';

const whole = Math.round;

/** "26 (14–37)"; a dash when nobody can say. */
function between({ mid, lo, hi }: Pick<Believed, 'mid' | 'lo' | 'hi'>, sign = ''): string {
    if (mid === null || lo === null || hi === null) return '\u2013';
    const middle = whole(mid) === 0 ? '0' : `${sign}${whole(mid)}`;
    return whole(lo) === whole(hi) ? middle : `${middle} (${whole(lo)}\u2013${whole(hi)})`;
}

export function Ledger({ answer }: { answer: BedAnswer | undefined }) {
    const rows = answer?.ledger ?? [];
    return (
        <section aria-label="What moved it">
            <h2>What moved it</h2>
            <div class="scroll" tabIndex={0} role="region" aria-label="What moved it, in rows">
                <table class="ledger">
                    <caption>
                        Pieces: + put in; {'\u2212'} gone till the next put-in, by our reckoning, with the range 8 times in 10.
                    </caption>
                    <thead>
                        <tr>
                            <th scope="col">From</th>
                            <th scope="col">What</th>
                            <th scope="col" class="num">
                                In
                            </th>
                            <th scope="col" class="num">
                                Gone
                            </th>
                        </tr>
                    </thead>
                    <tbody>
                        {rows.map((row) => (
                            <tr key={row.from}>
                                <td>{clockOf(row.from).slice(0, 5)}</td>
                                <td>{row.what}</td>
                                <td class="num">{row.in ? `+${whole(row.in)}` : ''}</td>
                                <td class="num r">{between(row.gone, '\u2212')}</td>
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
                                    <b>{between(answer.left)}</b>
                                </td>
                            </tr>
                        </tfoot>
                    )}
                </table>
            </div>
        </section>
    );
}

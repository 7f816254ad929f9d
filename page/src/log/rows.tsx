// The entries, newest first: time, word, what it says, and the way to cross it out. Crossed-out ones stay, lined through.
import { Mark } from '../bank/marks';
import type { Row } from '../record/answers';
import { outcomeIn } from '../bank/acts';

interface RowsProps {
    rows: readonly Row[];
    dev: string; // this device
    onOpen: (row: Row) => void;
    onCross: (row: Row) => void;
}

/** What to know about an entry beside what it says.
 * @param dev  this device, when others have entered something too */
function remarks(row: Row, dev?: string): string[] {
    const said: string[] = [];
    if (row.is_late) said.push(`entered ${row.rec.slice(11, 16)}`);
    if (row.n_fixes > 0) said.push(row.n_fixes === 1 ? 'put right once' : `put right ${row.n_fixes} times`);
    if (dev !== undefined && row.dev !== dev) said.push('another device');
    if (row.is_clash) said.push('its id came twice with different words');
    return said;
}

export function Rows({ rows, dev, onOpen, onCross }: RowsProps) {
    const isOfSeveral = rows.some((row) => row.dev !== rows[0]?.dev);
    return (
        <ul class="rows">
            {rows.map((row) => {
                const known = remarks(row, isOfSeveral ? dev : undefined);
                const mark = outcomeIn(row.kind, row.body);
                const act = row.is_crossed ? 'put back' : 'cross out';
                const name = `${row.word} ${row.at_text}`;
                return (
                    <li key={row.id} class={row.is_crossed ? 'crossed' : ''}>
                        <button type="button" class="entry" onClick={() => onOpen(row)}>
                            <time>{row.at_text.slice(0, 5)}</time>
                            <span class="what">
                                <span class="said">
                                    {mark && <Mark name={mark} />} <b>{row.word}</b>
                                    {row.detail && <small>{row.detail}</small>}
                                    {row.note && <small class="own">{row.note}</small>}
                                </span>
                                <span class="hide">: put right</span>
                                {known.length > 0 && <small class="soft">{known.join(', ')}</small>}
                            </span>
                        </button>
                        <button type="button" class="cross" aria-label={`${act} ${name}`} onClick={() => onCross(row)}>
                            {act}
                        </button>
                    </li>
                );
            })}
        </ul>
    );
}

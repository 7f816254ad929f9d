// What the core finds: its sentences, and tables: what one shows in a sentence, then the rows. Estimates carry their range in their own cell.
import type { Table } from './answers';

/** More columns than these do not fit a phone: there each row becomes a paragraph, every figure with its head. */
const MOST_SIDE_BY_SIDE = 4;

/** Figures stand to the right, "3 (2-5)" too; words do not. */
const isFigure = (cell: string) => /^[\d\u2212.-][^,]*$/.test(cell) || cell === '' || cell === 'too early to say';

export function Sentences({ sentences }: { sentences: readonly string[] }) {
    return (
        <ol class="sentences">
            {sentences.map((sentence) => (
                <li key={sentence}>{sentence}</li>
            ))}
        </ol>
    );
}

export function TableBox({ table }: { table: Table }) {
    if (table.rows.length === 0) return null;
    const isNumber = table.heads.map((_, i) => i > 0 && table.rows.every((row) => isFigure(row[i] ?? '')));
    return (
        <section>
            <h2>{table.title}</h2>
            {table.finding && <p class="finding">{table.finding}</p>}
            <div class="scroll" tabIndex={0} role="region" aria-label={table.title}>
                <table class={table.heads.length > MOST_SIDE_BY_SIDE ? 'many' : ''}>
                    <thead>
                        <tr>
                            {table.heads.map((head, i) => (
                                <th key={head} scope="col" class={isNumber[i] ? 'num' : ''}>
                                    {head}
                                </th>
                            ))}
                        </tr>
                    </thead>
                    <tbody>
                        {table.rows.map(([what, ...cells]) => (
                            <tr key={what}>
                                <th scope="row">{what}</th>
                                {cells.map((cell, i) => (
                                    <td key={i} class={isNumber[i + 1] ? 'num' : ''} data-head={table.heads[i + 1]}>
                                        {cell}
                                    </td>
                                ))}
                            </tr>
                        ))}
                    </tbody>
                </table>
            </div>
        </section>
    );
}

// A drawing as the core made it, under the sentence it shows, over the table it was drawn from.
import type { Picture } from './questions';

export function PictureTable({ title, picture }: { title: string; picture: Picture }) {
    return (
        <details>
            <summary>The same as a table</summary>
            <table aria-label={`${title}, as a table`}>
                <tbody>
                    {picture.table.map(([what, ...howMuch]) => (
                        <tr key={what}>
                            <th scope="row">{what}</th>
                            {howMuch.map((cell, i) => (
                                <td key={i}>{cell}</td>
                            ))}
                        </tr>
                    ))}
                </tbody>
            </table>
        </details>
    );
}

export function PictureBox({ title, picture }: { title: string; picture: Picture }) {
    return (
        <section>
            <h2>{title}</h2>
            <p class="finding">{picture.finding}</p>
            <figure dangerouslySetInnerHTML={{ __html: picture.svg }} />
            <PictureTable title={title} picture={picture} />
        </section>
    );
}

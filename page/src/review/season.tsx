// All sessions together: what went with what, with ranges, and why that is no proof.
import { useAsked } from '../record/hooks';
import type { Season } from './answers';
import { TableBox } from './tables';

export function SeasonPart() {
    const { answer: season, fault } = useAsked<Season>('season', {});
    if (fault) return <p class="caution">{fault}</p>;
    if (!season) return null;
    return (
        <>
            {season.sentences.map((sentence) => (
                <p key={sentence}>{sentence}</p>
            ))}
            <ul class="why">
                {season.notes.map(({ text }) => (
                    <li key={text}>{text}</li>
                ))}
            </ul>
            <div class="season-tables">
                {season.tables.map((table) => (
                    <TableBox key={table.name} table={table} />
                ))}
            </div>
        </>
    );
}

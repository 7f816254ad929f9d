// Season: all sessions of the record together; what went with what, with ranges, and why that is no proof.
import { Frame, Waits, follow, type Tab } from '../frame';
import { NoteList } from '../notes';
import { useAsked } from '../record/hooks';
import type { Season } from '../review/answers';
import { Sentences, TableBox } from '../review/tables';

export function SeasonScreen({ tabs }: { tabs: readonly Tab[] }) {
    const { answer: season, fault } = useAsked<Season>('season', {});
    return (
        <Frame title="Season" below="All sessions together" shown="season" tabs={tabs}>
            {!season && !fault && <Waits />}
            {fault && (
                <p class="caution" role="alert">
                    <b>No season.</b> {fault} Everything entered is kept.
                </p>
            )}
            {season?.n_sessions === 0 && <p class="lead">No session yet. Start at the peg, type up a card, or join another log.</p>}
            {season && season.n_sessions > 0 && (
                <>
                    <Sentences sentences={season.sentences} />
                    <div class="season-tables">
                        {season.tables.map((table) => (
                            <TableBox key={table.name} table={table} />
                        ))}
                    </div>
                    <section class="remarks">
                        <h2>What to know about it</h2>
                        <NoteList notes={season.notes} />
                    </section>
                </>
            )}
            <div class="acts">
                <a class="button" href="#trial" onClick={(event) => follow(event, 'trial')}>
                    A trial by lot
                </a>
                <a class="button" href="#review" onClick={(event) => follow(event, 'review')}>
                    One session
                </a>
            </div>
        </Frame>
    );
}

// Season: all sessions of the record together; what went with what, with ranges, and why that is no proof. What the model of the bed
// learned from them stands last: it comes when it is worked out, and moves nothing.
import { Frame, Waits, follow, type Tab } from '../frame';
import { NoteList } from '../notes';
import { useAsked } from '../record/hooks';
import type { Season } from '../review/answers';
import { Sentences, TableBox } from '../review/tables';
import { useLearned } from './learned';

const isLearned = (word: string) => word.startsWith('learned');

function Learned({ season, words, fault }: { season: Season; words: string; fault: string | undefined }) {
    const notes = season.notes.filter(({ code }) => isLearned(code));
    return (
        <section class="remarks season-learned" aria-label="What was learned">
            {words && <p class="soft learning">{words}</p>}
            {fault !== undefined && (
                <p class="caution" role="alert">
                    <b>What the model of the bed learned cannot be worked out.</b> {fault} Everything entered is kept.
                </p>
            )}
            {season.tables
                .filter(({ name }) => isLearned(name))
                .map((table) => (table.rows.length > 0 ? <TableBox key={table.name} table={table} /> : <p key={table.name}>{table.finding}</p>))}
            {notes.length > 0 && (
                <div class="remarks">
                    <NoteList notes={notes} />
                </div>
            )}
        </section>
    );
}

export function SeasonScreen({ tabs }: { tabs: readonly Tab[] }) {
    const { learned, words, fault: notLearned } = useLearned();
    const { answer: season, fault } = useAsked<Season>('season', learned ? { learned } : {});
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
                        {season.tables
                            .filter(({ name }) => !isLearned(name))
                            .map((table) => (
                                <TableBox key={table.name} table={table} />
                            ))}
                    </div>
                    <section class="remarks">
                        <h2>What to know about it</h2>
                        <NoteList notes={season.notes.filter(({ code }) => !isLearned(code))} />
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
            {season && season.n_sessions > 0 && <Learned season={season} words={words} fault={notLearned} />}
        </Frame>
    );
}

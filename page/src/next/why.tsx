// Behind a press: why, why not something else, and what would change it. Each reason leads to the entries it rests on.
import { go } from '../route';
import { range } from '../reading';
import type { NextAnswer } from './answers';
import { inTen } from './odds';

const ended = (text: string) => (/[.!?]$/.test(text) ? text : `${text}.`);

/** @param isLinked  its entries stand in the log */
export function Why({ answer, isLinked = true }: { answer: NextAnswer; isLinked?: boolean }) {
    const { reasons = [], others = [], changes_if = [], notes } = answer;
    return (
        <details class="reasons">
            <summary>Why, why not, what would change it</summary>
            <section aria-label="Because">
                <h2>Because</h2>
                <ol>
                    {reasons.map(({ text, grounds, events }) => (
                        <li key={text}>
                            {range(text)}
                            {grounds === 'book' && <small class="tag">book</small>}
                            {isLinked && events.length > 0 && (
                                <button type="button" onClick={() => go('log')}>
                                    {events.length === 1 ? 'the entry' : `the ${events.length} entries`}
                                    <span class="hide"> behind it, in the log</span>
                                </button>
                            )}
                        </li>
                    ))}
                </ol>
            </section>
            {others.length > 0 && (
                <section aria-label="Why not">
                    <h2>Why not</h2>
                    <ul>
                        {others.map(({ text, behind, p_more }) => (
                            <li key={text}>
                                <b>{range(text)}</b>: {range(behind.text)}
                                {p_more !== null && `; it brings more in ${inTen(p_more)}`}
                            </li>
                        ))}
                    </ul>
                </section>
            )}
            {changes_if.length > 0 && (
                <section aria-label="Would change it">
                    <h2>Would change it</h2>
                    <ul>
                        {changes_if.map(({ text }) => (
                            <li key={text}>{ended(range(text).replace(/^./, (first) => first.toUpperCase()))}</li>
                        ))}
                    </ul>
                </section>
            )}
            <section aria-label="What it rests on">
                <h2>What it rests on</h2>
                <p>{answer.what}</p>
                <ul>
                    {notes.map(({ code, text }) => (
                        <li key={code}>{text}</li>
                    ))}
                </ul>
            </section>
        </details>
    );
}

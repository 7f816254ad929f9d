// Review: one session looked back on. Three sentences first, then what happened when, waits, fish so far, outcomes by feed,
// nets, one thing to try; then all sessions together.
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { LeftWords, useCopied } from '../copies/safe';
import { Frame, Waits, type Tab } from '../frame';
import { useLook } from '../look';
import { NoteList } from '../notes';
import { PictureBox } from '../picture';
import type { Picture } from '../questions';
import { useAsked, useRecorder } from '../record/hooks';
import { rehearseFrom } from '../rehearse/rehearsal';
import { go } from '../route';
import { useShown } from '../shown';
import type { Review } from './answers';
import { SessionPicker, dayWords, placeWords } from './sessions';
import { PrintSheet } from './sheet';
import { Sentences, TableBox } from './tables';

const WIDE = '(min-width: 56rem)';
const TITLES = {
    timeline: 'What happened when',
    waits: 'How long till a bite',
    catch: 'Fish so far',
    rates: 'How often',
    change: 'One feed and another',
} as const;
/** Said in a session of another device: from then on it is open on this one too. */
const WENT_ON = 'Gone on with on another device.';
type PictureName = keyof typeof TITLES;

export function useIsWide(): boolean {
    const [isWide, setIsWide] = useState(() => matchMedia(WIDE).matches);
    useEffect(() => {
        const media = matchMedia(WIDE);
        const change = () => setIsWide(media.matches);
        media.addEventListener('change', change);
        return () => media.removeEventListener('change', change);
    }, []);
    return isWide;
}

interface SessionPartProps {
    review: Review;
    timeline: Picture | undefined; // the only drawing that is better wide
    children: ComponentChildren; // what can be done with it
}

/** One session, whichever journal it comes from. */
export function SessionPart({ review, timeline, children }: SessionPartProps) {
    const box = (name: PictureName, picture: Picture | undefined) =>
        picture && <PictureBox title={TITLES[name]} picture={picture} />;
    const drawn = (name: PictureName) => box(name, review.pictures?.[name]);
    const tables = (...names: string[]) =>
        review.tables.filter(({ name }) => names.includes(name)).map((table) => <TableBox key={table.name} table={table} />);
    return (
        <>
            <Sentences sentences={review.sentences} />
            {box('timeline', timeline)}
            <div class="review-columns">
                <div>{drawn('waits')}</div>
                <div>{drawn('catch')}</div>
                <div>
                    {drawn('rates')}
                    {drawn('change')}
                </div>
            </div>
            <div class="review-tables">
                <div>{tables('outcomes', 'held')}</div>
                <div>
                    {tables('nets', 'changes')}
                    {review.try && (
                        <section class="try">
                            <h2>One thing to try</h2>
                            <p>{review.try}</p>
                            {review.try_rule && <p class="note soft">{review.try_rule}</p>}
                        </section>
                    )}
                </div>
            </div>
            <section>
                <details>
                    <summary>The numbers as tables</summary>
                    {tables('waits', 'rates', 'halves')}
                </details>
            </section>
            <section class="remarks">
                <h2>What to know about it</h2>
                <NoteList notes={review.notes} />
            </section>
            <div class="acts">{children}</div>
        </>
    );
}

export function ReviewScreen({ tabs }: { tabs: readonly Tab[] }) {
    const recorder = useRecorder();
    const copying = useCopied();
    const { look } = useLook();
    const wide = useIsWide();
    const session = useShown(recorder);
    const { answer: review, fault } = useAsked<Review>('review', {
        ...(session && { session }),
        pictures: ['waits', 'catch', 'rates', 'change'],
        look,
    });
    const { answer: drawn, fault: notDrawn } = useAsked<Review>('review', {
        ...(session && { session }),
        pictures: ['timeline'],
        look,
        wide,
    });
    const own = review?.session;
    const day = own?.opened ? dayWords(own.opened) : 'crossed out';
    const below = own ? `${placeWords(own)}. ${day}` : 'Look back';
    return (
        <Frame title="Review" below={below} shown="review" tabs={tabs}>
            {fault && (
                <p class="caution" role="alert">
                    <b>No review.</b> {fault} Everything entered is kept.
                </p>
            )}
            {!fault && (!review || (!drawn && !notDrawn)) && <Waits />}
            <SessionPicker shown={session} />
            {review && !own && <p class="lead">No session yet. Start at the peg, type up a card, or join another log.</p>}
            {own && (
                <SessionPart review={review} timeline={drawn?.pictures?.['timeline']}>
                    <PrintSheet session={own.id} />
                    <button type="button" onClick={() => go('log')}>
                        Its log
                    </button>
                    {recorder.live === undefined && own.opened && !own.closed && (
                        <button type="button" onClick={() => recorder.log('note', { note: WENT_ON }, { session: own.id })}>
                            Go on with it here
                        </button>
                    )}
                    {recorder.live === undefined && (
                        <button type="button" onClick={() => rehearseFrom(own.id)}>
                            Your turn: rehearse it
                        </button>
                    )}
                </SessionPart>
            )}
            {own && (
                <section class="season">
                    <h2>All sessions together</h2>
                    <div class="acts">
                        <button type="button" onClick={() => go('season')}>
                            Season
                        </button>
                        <button type="button" onClick={() => go('trial')}>
                            A trial by lot
                        </button>
                    </div>
                </section>
            )}
            <p>
                <LeftWords {...copying} />
            </p>
            <div class="acts">
                <button type="button" onClick={() => go('copies')}>
                    Copies
                </button>
                <button type="button" onClick={() => go('settings')}>
                    Settings
                </button>
                {!own && (
                    <button type="button" onClick={() => go('typeup')}>
                        Type up a card
                    </button>
                )}
            </div>
        </Frame>
    );
}

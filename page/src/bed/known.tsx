// What is known of the feed because it was logged: how long ago, how much, what is left in the box.
import type { Bank } from '../record/answers';
import { Reading, range } from '../reading';
import { useRecorder } from '../record/hooks';
import type { BedAnswer } from './answers';

const whole = (pieces: number | null | undefined) => (typeof pieces === 'number' ? String(Math.round(pieces)) : '\u2013');

export function Known({ answer, spot }: { answer: BedAnswer | undefined; spot: string }) {
    const { fed, box, last_feed } = useRecorder().bank as Bank;
    const elsewhere = last_feed?.spot && last_feed.spot !== spot ? last_feed.spot : '';
    return (
        <section class="known" aria-label="Known">
            <h2>Known</h2>
            <div class="reads">
                <Reading
                    quantity={{ text: fed?.text ?? '\u2013' }}
                    words={fed ? `since the last put-in${elsewhere && `, at ${elsewhere}`}: ${fed.what}` : 'nothing put in yet'}
                />
                {elsewhere && <p class="here">{answer?.known.sentences[0]}</p>}
                <Reading
                    quantity={{ text: whole(answer?.known.fed_hour) }}
                    unit="pieces"
                    words={`put in here in the last hour, ${whole(answer?.known.fed)} in all`}
                />
            </div>
            {box.length > 0 && <p class="note">In the box: {box.map(({ text }) => range(text)).join('; ')}.</p>}
        </section>
    );
}

// Rehearse: a session that does not take place, on simulated water, to try decisions out and see what they cost.
//   rehearsal.ts  what it is, and how it is played    begin.tsx  where it begins     swim.tsx  the Bank on simulated water
//   advice.ts     the Bank's advice about it          end.tsx    what it cost        truth.tsx what was really there
import { useEffect, useState } from 'preact/hooks';
import { Frame } from '../frame';
import type { Setup } from '../setup';
import { Begin } from './begin';
import { End } from './end';
import { usePlaying } from './rehearsal';
import { Swim } from './swim';

export function RehearseScreen({ setup }: { setup: Setup }) {
    const playing = usePlaying();
    const { played } = playing;
    const [isEnded, setIsEnded] = useState(false);
    const isOver = played?.answer.is_over ?? false;
    const n = played?.file.choices.length ?? 0;
    useEffect(() => setIsEnded(isOver), [isOver, n, played?.file.setup, played?.file.seed]);
    if (played && isEnded) return <End playing={playing} played={played} onBack={() => setIsEnded(false)} />;
    if (played) return <Swim playing={playing} played={played} setup={setup} onEnd={() => setIsEnded(true)} />;
    return (
        <Frame title="Rehearse" below="Simulated water, your turn" shown="rehearse" tabs={[]}>
            <Begin playing={playing} />
        </Frame>
    );
}

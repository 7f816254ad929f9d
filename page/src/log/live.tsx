// FEED and RIG IN while the past is put right: the present does not wait.
import { useState } from 'preact/hooks';
import { feedWords, preset } from '../bank/acts';
import { useSince } from '../bank/since';
import { lastAdvice } from '../next/advice';
import { advisedFeed, nextRig, rigWords } from '../next/advised';
import { useCarried } from '../peg/carried';
import type { Bank } from '../record/answers';
import { useRecorder } from '../record/hooks';
import { clockOf } from '../record/line';
import type { Setup } from '../setup';

export function LiveBar({ setup }: { setup: Setup }) {
    const recorder = useRecorder();
    const bank = recorder.bank as Bank;
    const [said, setSaid] = useState('');
    useSince(recorder);
    const { feed: planned } = useCarried() ?? {};
    const put = advisedFeed(lastAdvice(recorder.live), recorder, setup, planned) ?? preset(bank.last_feed, setup, planned);
    const rig = nextRig(recorder, bank);
    const isRigIn = bank.wait?.start === 'lower';
    const enter = (kind: 'feed' | 'lower', word: string) => {
        const { event, stored } = recorder.log(kind, kind === 'feed' ? put : rig);
        void stored.then(() => setSaid(`${word} logged ${clockOf(event.at).slice(0, 5)}.`));
    };
    return (
        <div class="live">
            <button type="button" onClick={() => enter('feed', 'Feed')}>
                FEED<span>{feedWords(put, setup)}</span>
            </button>
            <button type="button" aria-pressed={isRigIn} onClick={() => enter('lower', 'Rig in')}>
                RIG IN<span>{isRigIn && bank.wait ? bank.wait.text : rigWords(rig)}</span>
            </button>
            <div class="hide" role="status">
                {said}
            </div>
        </div>
    );
}

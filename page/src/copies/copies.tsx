// Copies: is every entry somewhere else too, is this phone ready, and what comes in from other phones.
//   safe.tsx   files out               ready.tsx   ready for the bank?     join.tsx    files in, count.ts counts them first
//   forget.tsx a borrowed phone        everything.ts  what there is beside the journal
import { Frame, type Tab } from '../frame';
import { RecordFault } from '../home';
import { Borrowed } from './forget';
import { Join } from './join';
import { Ready } from './ready';
import { KeepSafe, entries, useCopied } from './safe';

export function CopiesScreen({ tabs }: { tabs: readonly Tab[] }) {
    const copying = useCopied();
    const below = copying.n === undefined ? '' : copying.left > 0 ? `${entries(copying.left)} not yet copied` : 'All copied';
    return (
        <Frame title="Copies" below={below} shown="copies" tabs={tabs}>
            <RecordFault />
            <div class="safe-columns">
                <div>
                    <KeepSafe copying={copying} />
                    <Ready copying={copying} />
                </div>
                <div>
                    <Join />
                    <Borrowed />
                </div>
            </div>
        </Frame>
    );
}

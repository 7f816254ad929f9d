// The A5 sheet: drawn by the core, printed by itself.
import { useEffect, useState } from 'preact/hooks';
import { createPortal } from 'preact/compat';
import { useRecorder } from '../record/hooks';
import type { Review } from './answers';

export function PrintSheet({ session }: { session: string }) {
    const recorder = useRecorder();
    const [svg, setSvg] = useState('');
    const [fault, setFault] = useState('');
    const ask = () =>
        recorder.ask<Review>('review', { session, pictures: ['sheet'] }).then(
            ({ pictures, notes }) => {
                const drawn = pictures?.['sheet']?.svg ?? '';
                setSvg(drawn);
                setFault(drawn ? '' : (notes.find(({ code }) => code === 'not-drawn')?.text ?? 'There is nothing to draw yet.'));
            },
            (reason: Error) => setFault(reason.message),
        );
    useEffect(() => {
        if (!svg) return undefined;
        document.body.classList.add('printing');
        const after = () => setSvg('');
        addEventListener('afterprint', after);
        const timer = setTimeout(() => print()); // once the sheet stands
        return () => {
            clearTimeout(timer);
            removeEventListener('afterprint', after);
            document.body.classList.remove('printing');
        };
    }, [svg]);
    return (
        <>
            <button type="button" onClick={() => void ask()}>
                Print A5
            </button>
            {fault && <p role="status">{fault}</p>}
            {svg && createPortal(<div class="print-sheet" dangerouslySetInnerHTML={{ __html: svg }} />, document.body)}
        </>
    );
}

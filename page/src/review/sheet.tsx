// The A5 sheet: drawn by the core, printed by itself.
import { useState } from 'preact/hooks';
import { Printed } from '../print';
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
    return (
        <>
            <button type="button" onClick={() => void ask()}>
                Print A5
            </button>
            {fault && <p role="status">{fault}</p>}
            {svg && <Printed pages={[svg]} paper="a5" onPrinted={() => setSvg('')} />}
        </>
    );
}

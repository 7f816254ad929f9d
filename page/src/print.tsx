// Pages that the core has drawn, printed by themselves: nothing else of the page goes on paper.
import { useEffect } from 'preact/hooks';

/** On "a4-four" four pages of A6 share a sheet; "half-letter" has each in its middle. */
export type Paper = 'a5' | 'a5-across' | 'a6' | 'half-letter' | 'a4-four';

/** Prints once it stands. @param onPrinted  called when the print dialog has closed */
export function Printed({ pages, paper, onPrinted }: { pages: readonly string[]; paper: Paper; onPrinted: () => void }) {
    useEffect(() => {
        const sheet = document.createElement('div');
        sheet.className = `print-sheet ${paper}`;
        sheet.innerHTML = pages.map((svg) => `<div class="print-page">${svg}</div>`).join('');
        document.body.append(sheet);
        document.body.classList.add('printing');
        addEventListener('afterprint', onPrinted);
        const timer = setTimeout(() => print()); // once the pages stand
        return () => {
            clearTimeout(timer);
            removeEventListener('afterprint', onPrinted);
            document.body.classList.remove('printing');
            sheet.remove();
        };
    }, []);
    return null;
}

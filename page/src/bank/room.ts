// How much room the Bank has: what the window leaves it inside rounded corners and the bars of the device.
import type { RefObject } from 'preact';
import { useLayoutEffect, useState } from 'preact/hooks';

/** All its rows with the ways to other screens among them, and the gaps between, px. */
const WITH_WAYS_PX = 688;

/** Whether the ways to other screens have a row of their own; else they are behind "More". */
export function useIsTall(root: RefObject<HTMLElement>): boolean {
    const [isTall, setIsTall] = useState(false);
    useLayoutEffect(() => {
        const bank = root.current;
        if (!bank) return undefined;
        const look = () => {
            const { paddingTop, paddingBottom } = getComputedStyle(bank);
            setIsTall(innerHeight - parseFloat(paddingTop) - parseFloat(paddingBottom) >= WITH_WAYS_PX);
        };
        look();
        const watch = new ResizeObserver(look); // of what is inside the padding: corners may come and go with the window as it is
        watch.observe(bank);
        return () => watch.disconnect();
    }, []);
    return isTall;
}

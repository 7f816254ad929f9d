// What fingers do on the Bank, told from what they do not mean. A press counts when the finger lifts inside the button
// it came down on; however long it stayed. Ignored: sliding off, a second contact, touches under 40 ms, the same button
// again within 400 ms, and everything just after the Rest screen. While locked only a press held for half a second
// counts. Keys and screen readers press without a pointer and count at once.
import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

const SHORTEST_TOUCH_MS = 40;
const AGAIN_MS = 400;
const SWALLOW_MS = 250;
const HOLD_MS = 500;
const FILL_MS = 50; // the edge of a held button fills in steps of this

let swallowUntil = 0;

/** Presses are ignored for a moment: the finger that opened the screen is still on its way. */
export function swallow(): void {
    swallowUntil = performance.now() + SWALLOW_MS;
}

export interface HandsOptions {
    /** A press of the control with this `data-press`. */
    onPress: (name: string, control: HTMLElement) => void;
    /** A contact on the glass, for the rain guard; undefined: it was no press. False: it was rain, and presses nothing. */
    onContact: (name: string | undefined) => boolean;
    isLocked: boolean;
}

interface Contact {
    pointer: number;
    isTouch: boolean;
    control: HTMLElement | null;
    since: number;
    timer?: number;
}

const controlAt = (target: Element | null) => target?.closest<HTMLElement>('[data-press]') ?? null;
const nameOf = (control: HTMLElement) => control.dataset['press'] as string;
const holdMs = (control: HTMLElement) => Number(control.dataset['hold'] ?? 0);

export function useHands(root: RefObject<HTMLElement>, options: HandsOptions): void {
    const latest = useRef(options);
    latest.current = options;
    useEffect(() => {
        const element = root.current;
        if (!element) return undefined;
        let contact: Contact | undefined;
        const lastPress = new Map<string, { stamp: number; now: number }>();

        const fill = (control: HTMLElement, part: number) => control.style.setProperty('--held', String(part));
        const letGo = () => {
            if (contact?.timer !== undefined) clearInterval(contact.timer);
            if (contact?.control) fill(contact.control, 0);
            contact = undefined;
        };
        /** Two presses of one button this close are one. Both clocks must say so: events may wait in a queue. */
        const isAgain = (name: string, stamp: number) => {
            const now = performance.now();
            const last = lastPress.get(name);
            const isSoon = last && stamp - last.stamp < AGAIN_MS && now - last.now < AGAIN_MS;
            if (!isSoon) lastPress.set(name, { stamp, now });
            return isSoon;
        };
        const press = (control: HTMLElement, stamp: number) => {
            if (performance.now() < swallowUntil || isAgain(nameOf(control), stamp)) return;
            latest.current.onPress(nameOf(control), control);
        };
        const hold = (own: Contact, control: HTMLElement, needed: number, stamp: number) => {
            const start = performance.now();
            own.timer = window.setInterval(() => {
                const part = (performance.now() - start) / needed;
                fill(control, Math.min(part, 1));
                if (part < 1) return;
                letGo();
                press(control, stamp + needed);
            }, FILL_MS);
        };

        const down = (event: PointerEvent) => {
            if (event.pointerType === 'mouse' && event.button !== 0) return;
            const isTouch = event.pointerType === 'touch';
            if (contact) {
                if (isTouch && !latest.current.onContact(undefined)) letGo(); // a second contact: both were rain
                return;
            }
            const control = controlAt(event.target as Element);
            contact = { pointer: event.pointerId, isTouch, control, since: event.timeStamp };
            if (!control) {
                if (isTouch) latest.current.onContact(undefined);
                return;
            }
            const needed = Math.max(holdMs(control), latest.current.isLocked && !control.dataset['free'] ? HOLD_MS : 0);
            if (needed > 0) hold(contact, control, needed, event.timeStamp);
        };
        const up = (event: PointerEvent) => {
            if (event.pointerId !== contact?.pointer) return;
            const { control, since, isTouch, timer } = contact;
            letGo();
            if (!control || timer !== undefined) return; // a held press has counted already, or was too short
            if (isTouch && event.timeStamp - since < SHORTEST_TOUCH_MS) {
                latest.current.onContact(undefined);
                return;
            }
            if (controlAt(document.elementFromPoint(event.clientX, event.clientY)) !== control) return;
            if (isTouch && !latest.current.onContact(nameOf(control))) return;
            press(control, event.timeStamp);
        };
        const move = (event: PointerEvent) => {
            if (event.pointerId !== contact?.pointer || contact.timer === undefined) return;
            if (controlAt(document.elementFromPoint(event.clientX, event.clientY)) !== contact.control) letGo();
        };
        const cancel = (event: PointerEvent) => {
            if (event.pointerId === contact?.pointer) letGo();
        };
        const click = (event: MouseEvent) => {
            const control = controlAt(event.target as Element);
            if (!control) return;
            event.preventDefault();
            if (event.detail === 0) press(control, event.timeStamp); // a key, or a screen reader
        };
        const still = (event: Event) => event.preventDefault(); // a long press is a press

        const watched = { pointerdown: down, pointerup: up, pointermove: move, pointercancel: cancel, click, contextmenu: still };
        for (const [type, listener] of Object.entries(watched))
            element.addEventListener(type, listener as EventListener);
        return () => {
            letGo();
            for (const [type, listener] of Object.entries(watched))
                element.removeEventListener(type, listener as EventListener);
        };
    }, [root]);
}

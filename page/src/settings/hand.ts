// Which hand holds the pole and which presses: for the left one everything that is pressed changes sides.

const KEY = 'baitfall.hand';
export type Hand = 'right' | 'left';

export const hand = (): Hand => (localStorage.getItem(KEY) === 'left' ? 'left' : 'right');

/** Sets the page out for it. */
export function wearHand(): void {
    document.documentElement.dataset['hand'] = hand();
}
export function chooseHand(next: Hand): void {
    localStorage.setItem(KEY, next);
    wearHand();
}

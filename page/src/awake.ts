// Keeping the screen on in a session: asked for while the page is seen, again each time it is seen again, and given up
// when the battery is low. A browser may refuse; then the phone decides, and the words say so.
import { useEffect, useState } from 'preact/hooks';

const KEY = 'baitfall.screen';
const LOW = 0.2;

export type ScreenChoice = 'on' | 'phone';
export const screenChoice = (): ScreenChoice => (localStorage.getItem(KEY) === 'phone' ? 'phone' : 'on');
export const setScreenChoice = (choice: ScreenChoice): void => localStorage.setItem(KEY, choice);

interface Battery extends EventTarget {
    level: number;
    charging: boolean;
    dischargingTime: number; // s
}
type MaybeBattery = Navigator & { getBattery?: () => Promise<Battery> };

export function useBattery(): Battery | undefined {
    const [battery, setBattery] = useState<{ now: Battery }>();
    useEffect(() => {
        let isOver = false;
        let own: Battery | undefined;
        const read = () => own && setBattery({ now: own });
        void (navigator as MaybeBattery).getBattery?.().then((found) => {
            if (isOver) return;
            own = found;
            read();
            own.addEventListener('levelchange', read);
            own.addEventListener('chargingchange', read);
        });
        return () => {
            isOver = true;
            own?.removeEventListener('levelchange', read);
            own?.removeEventListener('chargingchange', read);
        };
    }, []);
    return battery?.now;
}

function batteryWords(battery: Battery | undefined): string {
    if (!battery) return '';
    const level = `Battery ${Math.round(battery.level * 100)} %`;
    const hours = battery.dischargingTime / 3600;
    return !battery.charging && Number.isFinite(hours) && hours > 0 ? `${level}, about ${hours.toFixed(0)} h` : level;
}

/** Keeps the screen on while the component is there; what to say about screen and battery. */
export function useAwake(): { screen: string; battery: string } {
    const battery = useBattery();
    const isLow = battery !== undefined && !battery.charging && battery.level < LOW;
    const wants = screenChoice() === 'on' && !isLow;
    const [isHeld, setIsHeld] = useState(false);
    useEffect(() => {
        if (!wants || !('wakeLock' in navigator)) return undefined;
        let isOver = false;
        let lock: WakeLockSentinel | undefined;
        const ask = async () => {
            if (document.hidden || isOver || (lock && !lock.released)) return;
            try {
                lock = await navigator.wakeLock.request('screen');
                if (isOver) return void lock.release();
                setIsHeld(true);
                lock.addEventListener('release', () => !isOver && setIsHeld(false));
            } catch {
                setIsHeld(false); // refused: said in words below
            }
        };
        void ask();
        document.addEventListener('visibilitychange', ask);
        return () => {
            isOver = true;
            document.removeEventListener('visibilitychange', ask);
            void lock?.release();
        };
    }, [wants]);
    const screen = isHeld
        ? 'The screen stays on'
        : isLow
          ? 'Battery low: the phone decides when the screen goes off'
          : 'The phone decides when the screen goes off';
    return { screen, battery: batteryWords(battery) };
}

// Keeps events in the order they came: writes them to the store, and when that fails holds them, says so and tries again
// until they are written. Nothing overtakes a held event, and none is written twice (the store knows them by id).
import { lineOf, type RecordEvent } from './line';
import type { Store } from './store';

/** After this the screen says "saving". */
const SLOW_MS = 250;
const RETRY_MS = [1000, 2000, 5000];

export interface KeeperState {
    held: readonly RecordEvent[]; // not on the medium, in order; empty when all is well
    fault: string; // why they are held
    isSlow: boolean; // a write has been going on for longer than SLOW_MS
}

export class Keeper {
    private queue: { event: RecordEvent; resolve: () => void }[] = [];
    private isRunning = false;
    private fault = '';
    private isSlow = false;
    private wakeUp: () => void = () => undefined;

    /**
     * @param onState  called whenever the state has changed
     * @param onHeld   called with events that could not be written, once
     * @param onStored called with events that are on the medium now
     */
    constructor(
        private readonly store: Store,
        private readonly onState: () => void,
        private readonly onHeld: (events: RecordEvent[]) => void,
        private readonly onStored: (events: RecordEvent[]) => void,
    ) {}

    state(): KeeperState {
        return { held: this.fault ? this.queue.map(({ event }) => event) : [], fault: this.fault, isSlow: this.isSlow };
    }

    /** Resolves once the event is on the medium, which may be long after it was held. */
    keep(event: RecordEvent): Promise<void> {
        return new Promise((resolve) => {
            this.queue.push({ event, resolve });
            if (this.fault) {
                this.onHeld([event]);
                this.onState();
            }
            if (!this.isRunning) void this.run();
        });
    }

    /** Tries again at once, rather than after the pause. */
    retry(): void {
        this.wakeUp();
    }

    private async run(): Promise<void> {
        this.isRunning = true;
        for (let tries = 0; this.queue.length > 0; ) {
            const batch = this.queue.slice();
            const slow = setTimeout(() => this.say({ isSlow: true }), SLOW_MS);
            try {
                await this.store.add(batch.map(({ event }) => ({ id: event.id, line: lineOf(event) })));
                this.queue.splice(0, batch.length);
                tries = 0;
                this.say({ fault: '', isSlow: false });
                this.onStored(batch.map(({ event }) => event));
                batch.forEach(({ resolve }) => resolve());
            } catch (fault) {
                const isFirst = !this.fault;
                this.say({ fault: (fault as Error).message || (fault as Error).name, isSlow: false });
                if (isFirst) this.onHeld(this.queue.map(({ event }) => event));
                await this.pause(RETRY_MS[Math.min(tries++, RETRY_MS.length - 1)] as number);
            } finally {
                clearTimeout(slow);
            }
        }
        this.isRunning = false;
    }

    private pause(ms: number): Promise<void> {
        return new Promise((resolve) => {
            const timer = setTimeout(resolve, ms);
            this.wakeUp = () => {
                clearTimeout(timer);
                resolve();
            };
        });
    }

    private say(change: { fault?: string; isSlow?: boolean }): void {
        this.fault = change.fault ?? this.fault;
        this.isSlow = change.isSlow ?? this.isSlow;
        this.onState();
    }
}

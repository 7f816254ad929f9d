// The time of what is entered. While the page stays visible, time is the wall clock at the start plus what the monotonic
// clock has counted since, so that nobody who sets the clock reorders the record. Across hidden, frozen or a new run the
// wall clock is believed, unless it went backwards. No counter ticks here: everything is a difference of instants.

/** Beyond this the wall clock did not drift but was set. */
const JUMP_MS = 2000;

export class Clock {
    private wall = Date.now(); // where the two clocks last agreed
    private mono = performance.now();
    private newest = 0; // time does not start again before this

    /** Now, in ms since 1970, on the scale of the wall clock as last agreed. */
    now(): number {
        return Math.round(this.wall + performance.now() - this.mono);
    }

    monoMs(): number {
        return Math.round(performance.now());
    }

    /** By how many seconds the wall clock has been set since the two last agreed, forward above 0; 0 when it has not. */
    jumpS(): number {
        const jump = Date.now() - this.now();
        return Math.abs(jump) > JUMP_MS ? jump / 1000 : 0;
    }

    /** From here on the wall clock is believed again. */
    agree(): void {
        this.wall = Date.now();
        this.mono = performance.now();
    }

    /** The page is about to be hidden or frozen. */
    sleep(): void {
        this.newest = this.now();
    }

    /** The page was hidden or frozen, or has only just started and something was entered up to `newest`. A wall clock that
     * has gone backwards meanwhile is not believed: jumpS() finds it. */
    wake(newest = this.newest): void {
        this.agree();
        if (this.wall < newest - JUMP_MS) this.wall = newest;
    }
}

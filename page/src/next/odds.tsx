// A chance as counts of ten: ten dots and words. Only ever shown of advice that has earned it.

/** "7 in 10", "under 1 in 10". */
export function inTen(p: number): string {
    const n = Math.round(10 * p);
    return n < 1 ? 'under 1 in 10' : n > 9 ? 'over 9 in 10' : `${n} in 10`;
}

export function Dots({ p }: { p: number }) {
    const n = Math.min(Math.round(10 * p), 9); // nothing is certain: ten full ones would say so
    return (
        <svg class="odds" viewBox="0 0 44 4.4" role="img" aria-label={inTen(p)}>
            {Array.from({ length: 10 }, (_, i) => (
                <circle key={i} class={i < n ? 'so' : ''} cx={2.2 + 4.4 * i} cy="2.2" r="1.6" />
            ))}
        </svg>
    );
}

// What was really there, which only a rehearsal knows: so it is drawn as what happened is, in ink. Numbers beside it.
import { useId } from 'preact/hooks';
import type { Moment, RehearseAnswer, Shown } from './answers';

const WIDE = 80; // mm
const HIGH = 40;
const LEFT = 10;
const RIGHT = 78;
const TOP = 4;
const FOOT = 32;
const LONG_S = 5400; // beyond this only whole hours are named

interface Line {
    name: string;
    values: number[];
    isThin?: boolean;
}

/** The least round number that is not under the largest. */
function topOf(most: number): number {
    const ten = 10 ** Math.floor(Math.log10(Math.max(most, 1)));
    return [1, 2, 5, 10].map((n) => n * ten).find((n) => n >= most) as number;
}

interface DrawnProps {
    title: string;
    series: readonly Moment[];
    lines: readonly Line[];
    puts: readonly Shown[];
}
function Drawn({ title, series, lines, puts }: DrawnProps) {
    const id = useId();
    const first = series[0]?.t_s ?? 0;
    const length = Math.max((series.at(-1)?.t_s ?? 0) - first, 1);
    const top = topOf(Math.max(...lines.flatMap(({ values }) => values)));
    const x = (t_s: number) => LEFT + ((RIGHT - LEFT) * (t_s - first)) / length;
    const y = (value: number) => FOOT - ((FOOT - TOP) * value) / top;
    const at = (value: number, i: number) => `${x(series[i]?.t_s ?? 0).toFixed(1)} ${y(value).toFixed(1)}`;
    const path = (values: number[]) => `M${values.map(at).join('L')}`;
    const isNamed = length > LONG_S ? /:00$/ : /:[03]0$/;
    const hours = series.filter(({ at_text }) => isNamed.test(at_text));
    const most = lines.map(({ name, values }) => `${name} at most ${Math.round(Math.max(...values))}`);
    return (
        <figure>
            <svg class="truth" viewBox={`0 0 ${WIDE} ${HIGH}`} role="img" aria-labelledby={id}>
                <title id={id}>
                    {title}: {most.join(', ')}
                </title>
                <path class="grid" d={`M${LEFT} ${TOP}H${RIGHT}M${LEFT} ${FOOT}H${RIGHT}`} />
                <text x={LEFT - 1} y={TOP + 1.4} class="end">{top}</text>
                <text x={LEFT - 1} y={FOOT + 1.4} class="end">0</text>
                {hours.map(({ t_s, at_text }) => (
                    <text key={t_s} x={Math.min(Math.max(x(t_s), LEFT + 4), RIGHT - 4)} y={HIGH - 2} class="mid">
                        {length > 9000 && hours.length > 6 ? at_text.slice(0, 2) : at_text}
                    </text>
                ))}
                <text x={RIGHT} y={HIGH - 2} class="end">
                    {hours.length < 2 ? series.at(-1)?.at_text : ''}
                </text>
                {puts.map(({ t_s }) => (
                    <path key={t_s} class="put" d={`M${x(t_s).toFixed(1)} ${FOOT}v2.4`} />
                ))}
                {lines.map(({ name, values, isThin }) => (
                    <path key={name} class={isThin ? 'thin' : 'thick'} d={path(values)} />
                ))}
            </svg>
        </figure>
    );
}

const MOST_ROWS = 24;

/** @param fished  the spots that something was chosen for */
export function Truth({ answer, fished }: { answer: RehearseAnswer; fished: ReadonlySet<unknown> }) {
    const { truth, spots, events } = answer;
    if (!truth || truth.series.length < 2) return null;
    const { series, parameters } = truth;
    const isFed = (i: number) => series.some(({ left }) => (left[i] ?? 0) >= 0.5);
    const used = spots.map((spot, i) => ({ spot, i })).filter(({ spot, i }) => fished.has(spot) || isFed(i));
    const of = (key: 'left' | 'fish', i: number) => series.map((moment) => moment[key][i] ?? 0);
    const puts = events.filter(({ kind }) => kind === 'feed');
    const every = Math.ceil(series.length / MOST_ROWS);
    const rows = series.filter((_, k) => k % every === 0);
    return (
        <section class="what-was" aria-label="What was really there">
            <h2>What was really there</h2>
            <p class="note">Thin: fish within reach of the peg. Thick: fish on the bait, and pieces left. Marks below: put-ins.</p>
            {used.map(({ spot, i }) => (
                <div key={spot}>
                    <h3>Fish, {spot || 'the spot'}</h3>
                    <Drawn
                        title={`Fish, ${spot}`}
                        series={series}
                        puts={puts}
                        lines={[
                            { name: 'near', values: series.map(({ near }) => near), isThin: true },
                            { name: 'on the bait', values: of('fish', i) },
                        ]}
                    />
                    <h3>Feed left, {spot || 'the spot'}</h3>
                    <Drawn
                        title={`Feed left, ${spot}`}
                        series={series}
                        puts={puts}
                        lines={[{ name: 'pieces left', values: of('left', i) }]}
                    />
                </div>
            ))}
            <details>
                <summary>As a table, and what kind of day it was</summary>
                <div class="scroll" tabIndex={0} role="region" aria-label="What was really there, as a table">
                    <table>
                        <thead>
                            <tr>
                                <th scope="col">Time</th>
                                <th scope="col" class="num">Fish near</th>
                                {used.map(({ spot }) => (
                                    <th scope="col" class="num" key={spot}>
                                        {spot}: on the bait, left
                                    </th>
                                ))}
                            </tr>
                        </thead>
                        <tbody>
                            {rows.map(({ t_s, at_text, near, left, fish }) => (
                                <tr key={t_s}>
                                    <td>{at_text}</td>
                                    <td class="num">{Math.round(near)}</td>
                                    {used.map(({ spot, i }) => (
                                        <td class="num" key={spot}>
                                            {Math.round(fish[i] ?? 0)}, {Math.round(left[i] ?? 0)}
                                        </td>
                                    ))}
                                </tr>
                            ))}
                        </tbody>
                    </table>
                </div>
                <ul class="day-kind">
                    {parameters.filter((one) => one.of === 'day').map(({ name, value, usual, unit, what }) => (
                        <li key={name}>
                            {what}: {Number(value.toPrecision(2))} {unit} (usual {Number(usual.toPrecision(2))})
                        </li>
                    ))}
                </ul>
            </details>
        </section>
    );
}

// What the angler is after. It is kept for the sessions to come.
import { Chips } from '../chips';
import type { Aim } from '../setup';
import { Stepper } from '../stepper';

const OBJECTIVES = [
    ['weight', 'Weight'],
    ['number', 'Number'],
    ['target', 'Target'],
    ['species', 'One kind'],
] as const;

const KG_IN_LB = 0.45359237;
const STEP = { lb: 5 * KG_IN_LB, kg: 2 };
const START = { lb: 50 * KG_IN_LB, kg: 20 };

interface AimPartProps {
    aim: Aim;
    unit: 'lb' | 'kg';
    onAim: (aim: Aim) => void;
}

export function AimPart({ aim, unit, onAim }: AimPartProps) {
    const { objective, target_kg } = aim;
    const step = STEP[unit];
    const by = (n: number) => {
        const next = target_kg === undefined ? START[unit] : (Math.round(target_kg / step) + n) * step;
        onAim({ objective, target_kg: Math.min(Math.max(next, step), 500) });
    };
    const shown = target_kg !== undefined && Math.round(unit === 'lb' ? target_kg / KG_IN_LB : target_kg);
    return (
        <section class="aim" aria-label="What for">
            <h2>What for</h2>
            <Chips
                label="What for"
                choices={OBJECTIVES}
                chosen={objective}
                onChoose={(word) => onAim({ ...aim, objective: word as Aim['objective'] })}
            />
            {objective === 'target' && (
                <Stepper name="Target" less="Target less" more="Target more" isLeast={target_kg === step} onStep={by}>
                    {shown === false ? 'As told at the start' : `${shown} ${unit}`}
                </Stepper>
            )}
        </section>
    );
}

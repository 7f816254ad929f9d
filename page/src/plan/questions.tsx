// What an angler knows the evening before, in the order in which it is thought of. Short: what changes the answer most. Full:
// all that the core reads of it.
import { Cautions } from '../cautions';
import { ChipsField } from '../chips';
import type { CatalogueEntry } from '../questions';
import { Stepper } from '../stepper';
import type { PlanOffer, SideWord, WindWord } from './answers';
import {
    AIM_FIELDS,
    DEPTH,
    DISTANCE,
    DRIFT,
    FEED_FIELDS,
    POLE,
    OVERDEPTH,
    SESSION_FIELDS,
    SPOT_FIELDS,
    TIP_LINE,
    UNKNOWN_FIELDS,
    WATER_FIELDS,
} from './fields';
import { NameField, ValueField, WordField, capital, type Editing } from './inputs';
import { MOST_SPOTS, feedOf, kitRows, spotOf, valuesAt, withSpot, withValues, withoutSpot, type Plan } from './plan';

export interface QuestionsProps {
    editing: Editing;
    offer: PlanOffer;
    onSpot: (spot: string) => void;
}

/** The kit's own before the generic ones; a kit's row may stand in for a generic one of the same name. */
function withKit(plan: Plan, rows: string, generic: readonly CatalogueEntry[]): CatalogueEntry[] {
    const titleOf = (id: string) => generic.find(({ word }) => word === id)?.title ?? id;
    const own = kitRows(plan, rows).map(({ id, name }) => ({ word: id, title: name ?? titleOf(id) }));
    return [...own, ...generic.filter(({ word }) => !own.some((entry) => entry.word === word))];
}

function SpotField({ editing, onSpot }: Omit<QuestionsProps, 'offer'>) {
    const { plan, spot, setPlan } = editing;
    const add = () => {
        const next = withSpot(plan, spot);
        setPlan(next.plan);
        onSpot(next.spot);
    };
    const choices = plan.spots.map(({ id, name }) => [id, capital(name ?? id)] as const);
    const more = plan.spots.length < MOST_SPOTS ? ([['', '+ Spot']] as const) : [];
    return (
        <ChipsField
            label="Spot"
            term="spot"
            choices={[...choices, ...more]}
            chosen={spot}
            onChoose={(id) => (id === '' ? add() : onSpot(id))}
        />
    );
}

/** The wind in words, each with what the core takes it for. */
export function WindFields({ winds, sides, wind, side, onWind, onSide }: {
    winds: readonly WindWord[];
    sides: readonly SideWord[];
    wind: string;
    side: string;
    onWind: (wind: WindWord) => void;
    onSide: (side: SideWord) => void;
}) {
    const said = (list: readonly { word: string }[]) => list.map(({ word }) => [word, capital(word)] as const);
    const named = <T extends { word: string }>(list: readonly T[], word: string) =>
        list.find((one) => one.word === word) as T;
    return (
        <>
            <ChipsField
                label="Wind"
                isEven
                choices={said(winds)}
                chosen={wind}
                onChoose={(word) => onWind(named(winds, word))}
            />
            <ChipsField
                label="Wind from"
                isEven
                choices={said(sides)}
                chosen={side}
                onChoose={(word) => onSide(named(sides, word))}
            />
        </>
    );
}

function PlanWind({ editing, offer }: Omit<QuestionsProps, 'onSpot'>) {
    const { plan, spot, setPlan } = editing;
    const water = valuesAt(plan, spot, 'water');
    const put = (changes: Record<string, unknown>) => setPlan(withValues(plan, spot, 'water', changes));
    return (
        <WindFields
            winds={offer.winds}
            sides={offer.sides}
            wind={offer.winds.find(({ wind_m_s }) => wind_m_s === water['wind_m_s'])?.word ?? ''}
            side={offer.sides.find(({ wind_side_deg }) => wind_side_deg === water['wind_side_deg'])?.word ?? ''}
            onWind={({ wind_m_s, pm }) => put({ wind_m_s, wind_pm_m_s: pm })}
            onSide={({ wind_side_deg, pm }) => put({ wind_side_deg, wind_side_pm_deg: pm })}
        />
    );
}

function BaitAndPot({ editing, offer }: Omit<QuestionsProps, 'onSpot'>) {
    const { plan, spot, setPlan } = editing;
    const pots = withKit(plan, 'pots', offer.pots);
    return (
        <>
            <NameField
                name="Bait"
                list={withKit(plan, 'baits', offer.baits)}
                word={feedOf(plan, spot)?.bait ?? ''}
                onChoose={(bait) => setPlan(withValues(plan, spot, 'feed', { bait }))}
            />
            <NameField
                name="Pot"
                term="pot"
                list={pots}
                word={String(spotOf(plan, spot)?.['pot'] ?? pots[0]?.word)}
                onChoose={(pot) => setPlan(withValues(plan, spot, 'spot', { pot }))}
            />
        </>
    );
}

export function ShortQuestions(props: QuestionsProps) {
    const { editing } = props;
    return (
        <>
            <SpotField {...props} />
            <ValueField field={DISTANCE} editing={editing} />
            <ValueField field={DEPTH} editing={editing} />
            <PlanWind {...props} />
            <BaitAndPot {...props} />
        </>
    );
}

const values = (fields: readonly (typeof DEPTH)[], editing: Editing) =>
    fields.map((field) => <ValueField key={field.key} field={field} isFull editing={editing} />);

/** With another length the cautions come again. */
function PoleField({ editing }: { editing: Editing }) {
    return (
        <>
            <ValueField field={POLE} isFull editing={editing} />
            {editing.plan['pole_m'] !== undefined && <Cautions isAlert key={String(editing.plan['pole_m'])} />}
        </>
    );
}

const SUGGESTED = { word: '', title: 'Suggested' };
const AS_FED = { word: '', title: 'As fed' };

function RigPart({ editing, offer }: Omit<QuestionsProps, 'onSpot'>) {
    const { plan, spot, setPlan } = editing;
    const rigs = [SUGGESTED, ...withKit(plan, 'rigs', offer.rigs)];
    const hookBaits = [AS_FED, ...withKit(plan, 'hook_baits', offer.baits)];
    const word = spotOf(plan, spot)?.['rig'];
    return (
        <>
            <NameField
                name="Rig"
                list={rigs}
                word={typeof word === 'string' ? word : ''}
                onChoose={(rig) => setPlan(withValues(plan, spot, 'spot', { rig: rig === '' ? undefined : rig }))}
            />
            {word !== undefined && (
                <ValueField field={TIP_LINE} isFull taken={offer.rigs.find((rig) => rig.word === word)?.inputs ?? {}} editing={editing} />
            )}
            {values([OVERDEPTH], editing)}
            <NameField
                name="Hook bait"
                term="hook bait"
                list={hookBaits}
                word={String(spotOf(plan, spot)?.['hook_bait'] ?? '')}
                onChoose={(bait) => setPlan(withValues(plan, spot, 'spot', { hook_bait: bait === '' ? undefined : bait }))}
            />
        </>
    );
}

const HALF_HOUR_MS = 1_800_000;
/** "Thu 26 Nov, 09:00". */
const startWords = (ms: number) =>
    new Intl.DateTimeFormat('en-GB', {
        weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit', hourCycle: 'h23',
    }).format(ms);

function StartsField({ editing, instantOf }: { editing: Editing; instantOf: (ms: number) => string }) {
    const { plan, spot, setPlan } = editing;
    const ms = Date.parse(String(valuesAt(plan, spot, 'session')['starts']));
    const step = (by: number) => {
        const from = Number.isNaN(ms) ? Math.ceil(Date.now() / HALF_HOUR_MS) * HALF_HOUR_MS : ms;
        setPlan(withValues(plan, spot, 'session', { starts: instantOf(from + by * HALF_HOUR_MS) }));
    };
    return (
        <Stepper name="Starts" less="Starts earlier" more="Starts later" onStep={step}>
            {Number.isNaN(ms) ? 'Not told' : startWords(ms)}
        </Stepper>
    );
}

export function FullQuestions(props: QuestionsProps & { instantOf: (ms: number) => string }) {
    const { editing, offer, onSpot } = props;
    const { plan, spot, setPlan } = editing;
    const venue = (plan['venue'] ?? {}) as { name?: string };
    const take = () => {
        onSpot((plan.spots.find(({ id }) => id !== spot) as { id: string }).id);
        setPlan(withoutSpot(plan, spot));
    };
    const text = (name: string, value: string, put: (text: string) => Plan) => (
        <label class="text">
            <span class="name">{name}</span>
            <input value={value} maxLength={48} onInput={(event) => setPlan(put(event.currentTarget.value))} />
        </label>
    );
    const isMeasured = valuesAt(plan, spot, 'water')['drift'] === 'measured';
    return (
        <>
            {text('Name of the plan', plan.name, (name) => ({ ...plan, name }))}
            {text('Water', venue.name ?? '', (name) => ({ ...plan, venue: { ...venue, name } }))}
            <StartsField {...props} />
            {values(SESSION_FIELDS, editing)}
            <SpotField editing={editing} onSpot={onSpot} />
            {plan.spots.length > 1 && (
                <button type="button" onClick={take}>
                    Take {spotOf(plan, spot)?.name ?? spot} out
                </button>
            )}
            {values([DISTANCE, DEPTH, ...SPOT_FIELDS], editing)}
            <WordField section="spot" at={{ place: 'spot', key: 'bottom' }} name="Bottom" said={{}} editing={editing} />
            <PoleField editing={editing} />
            <PlanWind {...props} />
            {values(WATER_FIELDS, editing)}
            <WordField
                section="water"
                at={{ place: 'water', key: 'drift' }}
                name="Water moves"
                term="drift"
                said={{ wind: 'With the wind' }}
                editing={editing}
            />
            {isMeasured && values([DRIFT], editing)}
            <BaitAndPot editing={editing} offer={offer} />
            <WordField
                section="put"
                at={{ place: 'feed', key: 'how' }}
                name="How it goes in"
                said={{ clump: 'Tipped', sprinkle: 'Sprinkled', throw: 'Catapult', hand: 'By hand' }}
                editing={editing}
            />
            {values(FEED_FIELDS, editing)}
            <RigPart {...props} />
            {values(AIM_FIELDS, editing)}
        </>
    );
}

/** The peg is drawn in the morning: then a set of rigs that covers what may come. */
export function UnknownPeg({ editing }: { editing: Editing }) {
    const { plan, spot, setPlan } = editing;
    const isOn = plan.unknown_peg !== undefined;
    const start = Object.fromEntries(UNKNOWN_FIELDS.map(({ key, start: si }) => [key, si]));
    return (
        <section class="unknown">
            <button
                type="button"
                aria-pressed={isOn}
                onClick={() => setPlan(withValues(plan, spot, 'root', { unknown_peg: isOn ? undefined : start }))}
            >
                Peg not known yet
            </button>
            {isOn && UNKNOWN_FIELDS.map((field) => <ValueField key={field.key} field={field} editing={editing} />)}
        </section>
    );
}


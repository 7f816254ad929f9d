// What an angler knows the evening before, in the order in which it is thought of. Short: what changes the answer most. Full:
// all that the core reads of it.
import { Cautions } from '../cautions';
import { ChipsField } from '../chips';
import { withKit } from '../kit/kit';
import { inOwnUnit } from '../settings/units';
import { Stepper } from '../stepper';
import { capital } from '../words';
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
    WIND,
    WIND_SIDE,
    standing,
} from './fields';
import { NameField, ValueField, WordField, type Editing } from './inputs';
import { MOST_SPOTS, feedOf, spotOf, valuesAt, withSpot, withValues, withoutSpot, type Plan, type Values } from './plan';

export interface QuestionsProps {
    editing: Editing;
    offer: PlanOffer;
    onSpot: (spot: string) => void;
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

/** The wind in words, each with what the core takes it for. @param values  of the water, as they stand now */
export function WindFields({ offer, values, onWind, onSide }: {
    offer: PlanOffer;
    values: Values;
    onWind: (wind: WindWord) => void;
    onSide: (side: SideWord) => void;
}) {
    const { winds, sides, form } = offer;
    const said = (list: readonly { word: string }[]) => list.map(({ word }) => [word, capital(word)] as const);
    const named = <T extends { word: string }>(list: readonly T[], word: string) =>
        list.find((one) => one.word === word) as T;
    return (
        <>
            <ChipsField
                label="Wind"
                isEven
                choices={said(winds)}
                chosen={winds.find(({ wind_m_s }) => wind_m_s === values['wind_m_s'])?.word ?? ''}
                note={standing(inOwnUnit(WIND), form, values, 'any')}
                onChoose={(word) => onWind(named(winds, word))}
            />
            <ChipsField
                label="Wind from"
                isEven
                choices={said(sides)}
                chosen={sides.find(({ wind_side_deg }) => wind_side_deg === values['wind_side_deg'])?.word ?? ''}
                note={`${standing(WIND_SIDE, form, values, 'any side')}${typeof values['wind_side_deg'] === 'number' ? ' (0\u00b0: blows straight out)' : ''}`}
                onChoose={(word) => onSide(named(sides, word))}
            />
        </>
    );
}

/** What a word of the wind is taken for. */
export const ofWind = ({ wind_m_s, pm }: WindWord): Values => ({ wind_m_s, wind_pm_m_s: pm });
export const ofSide = ({ wind_side_deg, pm }: SideWord): Values => ({ wind_side_deg, wind_side_pm_deg: pm });

function PlanWind({ editing, offer }: Omit<QuestionsProps, 'onSpot'>) {
    const { plan, spot, setPlan } = editing;
    const put = (changes: Values) => setPlan(withValues(plan, spot, 'water', changes));
    return (
        <WindFields
            offer={offer}
            values={valuesAt(plan, spot, 'water')}
            onWind={(wind) => put(ofWind(wind))}
            onSide={(side) => put(ofSide(side))}
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
/** Its own clock, as if it were UTC, and its offset: "2026-04-12T09:00:00+01:00". */
function taken(instant: string): { ms: number; offset: string } {
    const [, clock = '', offset = ''] = /^(.{16,19}?)(?:\.\d+)?(Z|[+-]\d\d:\d\d)$/.exec(instant) ?? [];
    return { ms: Date.parse(`${clock}Z`), offset };
}
/** "Thu 26 Nov, 09:00". */
const startWords = (ms: number) =>
    new Intl.DateTimeFormat('en-GB', {
        weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit', hourCycle: 'h23', timeZone: 'UTC',
    }).format(ms);

/** By the clock that the plan was made with; while it is this device's, summer time comes and goes with it. */
function StartsField({ editing, instantOf }: { editing: Editing; instantOf: (ms: number) => string }) {
    const { plan, spot, setPlan } = editing;
    const starts = String(valuesAt(plan, spot, 'session')['starts']);
    const { ms, offset } = taken(starts);
    const step = (by: number) => {
        const from = Number.isNaN(ms) ? Math.ceil(Date.now() / HALF_HOUR_MS) * HALF_HOUR_MS : Date.parse(starts);
        const here = instantOf(from + by * HALF_HOUR_MS);
        const isHere = Number.isNaN(ms) || taken(instantOf(from)).ms === ms;
        const next = isHere ? here : new Date(ms + by * HALF_HOUR_MS).toISOString().slice(0, 19) + offset;
        setPlan(withValues(plan, spot, 'session', { starts: next }));
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


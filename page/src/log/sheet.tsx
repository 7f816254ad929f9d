// One entry as a sheet: when, and whatever its kind says. To put an entry right, or to add one that was missed. Its time is
// held from the moment the sheet is opened.
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import type { Kind } from '../record/line';
import { useRecorder } from '../record/hooks';
import { Chips } from '../chips';
import { Stepper } from '../stepper';
import { Corrections } from './corrections';
import { isTouched, momentOf, type Draft } from './draft';
import { faultWords, fieldsOf, type Field } from './fields';
import { keep } from './keep';
import { CHIPS, PMS, TYPED_PM_S, clockText, pmWords } from './moment';

export interface SheetProps {
    draft: Draft;
    species: readonly string[];
    onChange: (draft: Draft) => void;
    onKept: (draft: Draft, words: string) => void;
    onClose: () => void;
}

/** Which step of PMS a give or take is at, or between. */
const stepOf = (pm_s: number) => PMS.findIndex((one) => one >= pm_s);

function TimePart({ draft, onChange }: Pick<SheetProps, 'draft' | 'onChange'>) {
    const { of, heldMs, eastMin, minutes, clock, pm_s, pmAtStart } = draft;
    const at = stepOf(pm_s);
    const by = (step: number) => {
        const next = PMS[Math.min(Math.max((at < 0 ? PMS.length : at) + step, 0), PMS.length - 1)];
        onChange({ ...draft, pm_s: next ?? pm_s });
    };
    const proposed = clockText(heldMs - minutes * 60_000, eastMin);
    const chip = (word: string) => {
        const own = CHIPS.find((one) => String(one.minutes) === word) ?? CHIPS[0];
        onChange({ ...draft, minutes: own.minutes, clock: '', pm_s: own.minutes === 0 ? pmAtStart : own.pm_s });
    };
    /** What is proposed, typed over and back again, is no change: its seconds were not typed. */
    const type = (text: string) => {
        if (text === proposed) chip(String(minutes));
        else onChange({ ...draft, clock: text, pm_s: clock === '' ? TYPED_PM_S : pm_s });
    };
    return (
        <>
            <p class="note soft">
                {of ? 'Its time' : 'Now'}, {clockText(heldMs, eastMin)}, stays as it was when this was opened. It
                happened so many minutes earlier:
            </p>
            <Chips
                label="Minutes earlier"
                isEven
                choices={CHIPS.map((one) => [String(one.minutes), one.minutes ? `\u2212${one.minutes}` : of ? 'as is' : 'now'])}
                chosen={clock === '' ? String(minutes) : ''}
                onChoose={chip}
            />
            <label class="text">
                <span class="name">Time</span>
                <input
                    value={clock || proposed}
                    onInput={(event) => type(event.currentTarget.value)}
                />
            </label>
            <Stepper
                name="Give or take"
                less="Give or take less"
                more="Give or take more"
                isLeast={at === 0}
                isMost={at === PMS.length - 1}
                onStep={by}
            >
                {pmWords(pm_s)}
            </Stepper>
        </>
    );
}

function FieldPart({ field, draft, species, onChange }: { field: Field } & Pick<SheetProps, 'draft' | 'species' | 'onChange'>) {
    const listId = useId();
    const value = draft.values[field.key] ?? '';
    const set = (text: string) => onChange({ ...draft, values: { ...draft.values, [field.key]: text } });
    if (field.as === 'choice')
        return (
            <div class="choice">
                <span class="name">{field.name}</span>
                <Chips
                    label={field.name}
                    choices={field.choices}
                    chosen={value}
                    onChoose={(word) => set(word === value && !field.isNeeded ? (draft.start[field.key] ?? '') : word)}
                />
            </div>
        );
    if (field.as === 'note')
        return (
            <label class="text">
                <span class="name">{field.name}</span>
                <textarea rows={3} maxLength={4000} value={value} onInput={(event) => set(event.currentTarget.value)} />
            </label>
        );
    const hint = field.as === 'amount' && field.hint ? `like ${field.hint}` : undefined;
    const isShort = field.as === 'clock' || field.as === 'whole';
    const offer = field.as === 'name' && field.offer === 'species' ? species : [];
    return (
        <label class={isShort ? 'text short' : 'text'}>
            <span class="name">{field.name}</span>
            <input
                value={value}
                maxLength={48}
                inputMode={field.as === 'whole' ? 'numeric' : 'text'}
                list={offer.length > 0 ? listId : undefined}
                placeholder={draft.start[field.key] ?? hint}
                onInput={(event) => set(event.currentTarget.value)}
            />
            {offer.length > 0 && (
                <datalist id={listId}>
                    {offer.map((one) => (
                        <option key={one} value={one} />
                    ))}
                </datalist>
            )}
        </label>
    );
}

const isOfFish = (key: string) => ['species', 'size', 'guess_kg', 'mass_kg', 'held'].includes(key);
/** Fields that say something about this entry: a drop without a fish on has no weight. */
function shownFields(kind: Kind, { values, start }: Draft): readonly Field[] {
    const hasFish = kind !== 'lift' || !['missed', 'nothing'].includes(values['outcome'] ?? '');
    return fieldsOf(kind).filter(({ key }) => hasFish || !isOfFish(key) || start[key] || values[key]);
}

export function Sheet({ draft, species, onChange, onKept, onClose }: SheetProps) {
    const recorder = useRecorder();
    const [fault, setFault] = useState('');
    const [isKeeping, setIsKeeping] = useState(false);
    const head = useRef<HTMLHeadingElement>(null);
    useEffect(() => head.current?.focus({ preventScroll: true }), []);
    const { word, of, heldMs, eastMin, kind } = draft;

    const commit = async () => {
        setIsKeeping(true);
        setFault('');
        try {
            const entry = await keep(draft, recorder);
            if (!entry) return onClose();
            const at = kind === 'tally' ? '' : ` ${clockText(momentOf(draft), eastMin)}`;
            await entry.stored;
            onKept(draft, of ? `${word}${at} put right.` : `${word}${at} added.`);
        } catch (reason) {
            setFault(faultWords(kind, (reason as Error).message));
            setIsKeeping(false);
        }
    };
    return (
        <section class="sheet" aria-label={of ? 'Put an entry right' : 'Add an entry'}>
            <div class="sheet-head">
                <h2 ref={head} tabIndex={-1}>
                    {word}
                    {of && kind !== 'tally' && ` ${clockText(heldMs, eastMin)}`}
                </h2>
                <button type="button" class="keep" disabled={isKeeping} onClick={() => void commit()}>
                    Keep
                </button>
                <button type="button" onClick={onClose}>
                    Close
                </button>
            </div>
            {fault && (
                <p class="caution" role="alert">
                    <b>Not logged yet.</b> {fault} What was typed is kept.
                </p>
            )}
            {kind !== 'tally' && <TimePart draft={draft} onChange={onChange} />}
            {shownFields(kind, draft).map((field) => (
                <FieldPart key={field.key} field={field} draft={draft} species={species} onChange={onChange} />
            ))}
            {of && <Corrections of={of} kind={kind} session={draft.session} />}
            <p class="note soft">
                {isTouched(draft)
                    ? 'Not logged yet: Keep logs it. Leaving keeps it as it stands.'
                    : kind === 'close' && !of
                      ? 'Keep ends the session. Close leaves it open.'
                      : 'Nothing typed yet.'}
            </p>
        </section>
    );
}

// The controls of a plan: a stepper for a value of the core's tables, a stepper through a list of names, one of a few words.
import { around, feetAndInches, type Step } from '../choice';
import { ChipsField } from '../chips';
import type { CatalogueEntry, FormField } from '../questions';
import { inOwnUnit } from '../settings/units';
import { Stepper } from '../stepper';
import type { TermName } from '../terms';
import { capital } from '../words';
import { formField, giveOrTake, shownNumber, stepped, valueOf, type FormValue, type PlanField } from './fields';
import { UNKNOWN, valuesAt, withValues, type Plan, type Values } from './plan';

export interface Editing {
    plan: Plan;
    spot: string; // the one that is being changed
    form: Record<string, FormField[]>;
    setPlan: (plan: Plan) => void;
}

interface ValueFieldProps {
    field: PlanField;
    isFull?: boolean; // with its give or take, and "don't know" where the core takes it
    taken?: Values; // what the core takes for values that are not said, where its table does not tell
    editing: Editing;
}

export function ValueField({ field, taken, editing, ...rest }: ValueFieldProps) {
    const { plan, spot, form, setPlan } = editing;
    const values = { ...taken, ...valuesAt(plan, spot, field.place) };
    const put = (changes: Values) => setPlan(withValues(plan, spot, field.place, changes));
    return <FormStepper field={field} form={form} values={values} put={put} {...rest} />;
}

/** The unit; a depth is told in the other one, too. */
function unitWords({ key, unit, isFeet, isPm }: FormValue, si: number): string {
    if (key !== 'depth_m' || isPm) return isFeet ? '' : unit;
    return isFeet ? `${si.toFixed(2)}\u00a0m` : `${unit}, ${feetAndInches(si * 100)}`;
}

interface FormStepperProps {
    field: FormValue;
    form: Record<string, FormField[]>;
    values: Values;
    put: (changes: Values) => void;
    isFull?: boolean;
}

/** A stepper for a value of the core's tables, wherever it stands. */
export function FormStepper({ field: metric, form, values, put: change, isFull }: FormStepperProps) {
    const field = inOwnUnit(metric);
    const own = formField(form, field);
    if (!own) return null;
    const si = valueOf(own, values);
    const isQuantity = own.kind === 'quantity';
    const nothing = isQuantity ? 'Don\u2019t know' : (field.none ?? 'Not told');
    const mayBeUnknown = isFull && (isQuantity || own.start === null) && !own.must;
    const put = (value: unknown) => change({ [own.name]: value });
    const isUnknown = si === undefined;
    const give = isFull && !isUnknown && !field.hasOwnPm ? giveOrTake(field, own, values) : undefined;
    return (
        <Stepper
            name={field.name}
            term={field.term}
            less={`${field.name} less`}
            more={`${field.name} more`}
            isLeast={!isUnknown && si <= own.least}
            isMost={!isUnknown && si >= own.most}
            onStep={(by: Step) => put(stepped(field, own, values, by))}
            below={
                (give || mayBeUnknown) && (
                    <>
                        {give && <span class="note">{give}</span>}
                        {mayBeUnknown && (
                            <button
                                type="button"
                                aria-label={`${nothing}, ${field.name}`}
                                aria-pressed={isUnknown}
                                onClick={() => put(isUnknown ? stepped(field, own, values, 1) : isQuantity ? UNKNOWN : undefined)}
                            >
                                {nothing}
                            </button>
                        )}
                    </>
                )
            }
        >
            {isUnknown ? nothing : shownNumber(field, si)}{' '}
            <small>
                {!isUnknown && unitWords(field, si)}
            </small>
        </Stepper>
    );
}

interface NameFieldProps {
    name: string;
    term?: TermName;
    list: readonly CatalogueEntry[];
    word: string;
    onChoose: (word: string) => void;
}

/** A name out of a list that goes round. */
export function NameField({ name, term, list, word, onChoose }: NameFieldProps) {
    const entry = list.find((one) => one.word === word);
    const [title = '', state = ''] = (entry?.title ?? word).split(/, (.*)/);
    return (
        <Stepper
            name={name}
            term={term}
            less={`${name} before`}
            more={`${name} after`}
            isTall
            onStep={(by: Step) => onChoose(around(list, word, by))}
        >
            {capital(title)} <small>{state}</small>
        </Stepper>
    );
}

/** A word of one of the core's tables. */
export function WordField({ section, at, name, term, said, editing }: {
    section: string;
    at: { place: Parameters<typeof valuesAt>[2]; key: string };
    name: string;
    term?: TermName;
    said: Record<string, string>; // what stands on the buttons
    editing: Editing;
}) {
    const { plan, spot, form, setPlan } = editing;
    const own = form[section]?.find((field) => field.name === at.key);
    if (!own?.words) return null;
    const chosen = valuesAt(plan, spot, at.place)[at.key] ?? own.start;
    return (
        <ChipsField
            label={name}
            {...(term && { term })}
            choices={own.words.map((word) => [word, said[word] ?? capital(word)])}
            chosen={String(chosen)}
            onChoose={(word) => setPlan(withValues(plan, spot, at.place, { [at.key]: word }))}
        />
    );
}

// A rehearsal: what was set up, its seed, what was chosen so far. That is all there is to it, and all that its file holds: the
// core plays the same day of it again whenever it is asked. It has a worker of its own; nothing of it is ever stored in the record.
import { useEffect, useRef, useState } from 'preact/hooks';
import { Desk } from '../desk';
import { answerIn } from '../questions';
import type { Bank } from '../record/answers';
import type { Body } from '../record/line';
import { useRecorder } from '../record/hooks';
import { go } from '../route';
import type { RehearseAnswer } from './answers';
import { Scratch } from './scratch';

declare const RECORD_WORKER: string;

export interface Choice {
    t_s: number;
    kind: 'feed' | 'lower' | 'lift' | 'wait';
    body?: Body;
    for_s?: number;
}
export interface Rehearsal {
    rehearsal: 1;
    name?: string;
    setup: Record<string, unknown>;
    seed: number;
    choices: Choice[];
    until_s: number;
}

const DRAFT = 'rehearsal';
const MOST_BYTES = 1 << 20;

/** The real session that is to be gone on from; undefined: none was asked for. */
let wanted: string | undefined;
export function rehearseFrom(session: string): void {
    wanted = session;
    go('rehearse');
}
export function takeWanted(): string | undefined {
    const session = wanted;
    wanted = undefined;
    return session;
}

/** Out of a file. Throws the sentence of what is wrong; what is inside is checked by the core when it is played. */
export function readRehearsal(text: string): Rehearsal {
    if (text.length > MOST_BYTES) throw new Error('The file is larger than a rehearsal can be: 1 MiB.');
    let file: Partial<Rehearsal>;
    try {
        file = JSON.parse(text) as Partial<Rehearsal>;
    } catch {
        throw new Error('It is not a JSON file.');
    }
    if (file?.rehearsal !== 1) throw new Error('It is no rehearsal: "rehearsal": 1 is missing.');
    const { name, setup = {}, seed = 1, choices = [], until_s = 0 } = file;
    return { rehearsal: 1, ...(name && { name }), setup, seed, choices, until_s };
}

const NAME_BYTES = 48;

/** A name that a file may have. */
export function shortName(name: string): string {
    const isLong = new TextEncoder().encode(name).length > NAME_BYTES;
    return isLong ? shortName([...name].slice(0, -1).join('')) : name;
}

/** As it was before a choice was made: the time goes back to it. */
export function before({ choices, ...file }: Rehearsal, choice: number): Rehearsal {
    return { ...file, choices: choices.slice(0, choice), until_s: choices[choice]?.t_s ?? file.until_s };
}

type Engine = Desk<{ lines: string[] } | { question: string; request: string }, { answer: string }>;

export class Player {
    private readonly desk: Engine = new Desk(RECORD_WORKER);
    private readonly scratch = new Scratch<{ question: string; request: string }>(RECORD_WORKER);

    /** From a real session: its lines are read, the truth is drawn, and none of it is asked for again. */
    async from(lines: string[], request: object): Promise<Record<string, unknown>> {
        await this.desk.ask({ lines });
        return (await this.ask<{ setup: Record<string, unknown> }>(request)).setup;
    }

    async ask<T>(request: object): Promise<T> {
        return answerIn<T>((await this.desk.ask({ question: 'rehearse', request: JSON.stringify(request) })).answer);
    }

    play({ setup, seed, choices, until_s }: Rehearsal, more: object = {}): Promise<RehearseAnswer> {
        return this.ask<RehearseAnswer>({ setup, seed, choices, until_s, ...more });
    }

    bank({ lines, session, now }: RehearseAnswer): Promise<Bank> {
        return this.scratch.ask<Bank>(lines, { question: 'bank', request: JSON.stringify({ session, now }) });
    }

    end(): void {
        this.scratch.end();
        this.desk.end();
    }
}

export interface Played {
    file: Rehearsal;
    answer: RehearseAnswer;
    bank: Bank; // as the Bank would have it
}
type Step = (now: Played) => Rehearsal;

export interface Playing {
    played: Played | undefined;
    fault: string;
    isWorking: boolean;
    nPlayed: number; // how often something was chosen and played
    player: Player;
    open: (file: Rehearsal) => void;
    leave: () => void;
    /** What is chosen takes its place after all that was chosen before, however quickly. */
    choose: (step: Step) => void;
    wait: (for_s: number) => void;
}

/** The rehearsal that is being played; it is kept as it stands, so that a closed page loses nothing. */
export function usePlaying(): Playing {
    const recorder = useRecorder();
    const player = useRef<Player>();
    player.current ??= new Player();
    useEffect(() => () => player.current?.end(), []);
    const latest = useRef<Played>();
    const queue = useRef(Promise.resolve());
    const [, draw] = useState(0);
    const [fault, setFault] = useState('');
    const [nWaiting, setWaiting] = useState(0);
    const nPlayed = useRef(0);

    const keep = (played: Played | undefined) => {
        latest.current = played;
        recorder.store.setDraft(DRAFT, played?.file).catch(() => undefined); // told by the home screen
        draw((n) => n + 1);
    };
    const then = (act: () => Promise<Played | undefined>) => {
        setWaiting((n) => n + 1);
        queue.current = queue.current
            .then(act)
            .then(
                (played) => {
                    setFault('');
                    keep(played);
                },
                (reason: Error) => setFault(reason.message),
            )
            .then(() => {
                nPlayed.current++;
                setWaiting((n) => n - 1);
            });
    };
    const play = async (file: Rehearsal, more?: object): Promise<Played> => {
        const own = player.current as Player;
        const answer = await own.play(file, more);
        const { setup = file.setup, now_s } = answer; // the invented plan is put in once
        return { file: { ...file, setup, until_s: now_s }, answer, bank: await own.bank(answer) };
    };
    /** A wait is a choice like any other, of as long as it lasted: a bite ends it, the next one after what was chosen last. */
    const wait = async ({ file, answer }: Played, for_s: number): Promise<Played> => {
        const { now_s: t_s, ends_s } = answer;
        const until = (s: number) => ({
            ...file,
            choices: [...file.choices, { t_s, kind: 'wait', for_s: s - t_s } satisfies Choice],
            until_s: s,
        });
        const next = await play(until(Math.min(t_s + for_s, ends_s)), { until_bite: true });
        const { now_s } = next.answer;
        return now_s > t_s ? { ...next, file: until(now_s) } : next;
    };
    useEffect(() => {
        if (wanted !== undefined) return;
        then(async () => {
            const file = await recorder.store.draft<Rehearsal>(DRAFT).catch(() => undefined);
            return file && play(file);
        });
    }, []);
    return {
        played: latest.current,
        fault,
        isWorking: nWaiting > 0,
        nPlayed: nPlayed.current,
        player: player.current,
        open: (file) => then(() => play(file)),
        leave: () => then(async () => undefined),
        choose: (step) => then(async () => latest.current && play(step(latest.current))),
        wait: (for_s) => then(async () => latest.current && wait(latest.current, for_s)),
    };
}

// The worker that holds the journal in a core of its own. It takes lines and answers questions about all of them, in the
// order they are sent. Protocol (each message and its reply carry the same id; a reply has `fault` when it failed):
//   { id, lines }              -> { id, taken: { new, known, clash }, refused: [{ line, error }], fresh: [line] }
//   { id, question, request }  -> { id, answer }      the JSON that the core gives, errors included
//   { id, check: line }        -> { id, answer }      the line in canonical form, or the error as JSON; nothing is taken
//   { id, table: true }        -> { id, answer }      the journal as CSV (RFC 4180)
import { loadCore, type Core } from './core';
import { Journal, takeAll } from './journal';

declare const self: DedicatedWorkerGlobalScope;

type Message = { id: number } & (
    | { lines: string[] }
    | { question: string; request: string }
    | { check: string }
    | { table: true }
);

function reply(message: Message, core: Core, journal: Journal): object {
    if ('lines' in message) return takeAll(journal, message.lines);
    if ('check' in message) return { answer: core.journalCheck(message.check) };
    if ('table' in message) return { answer: core.journalTable() };
    return { answer: core.ask(message.question, message.request) };
}

export function startRecord(): void {
    const started = loadCore().then((core) => ({ core, journal: new Journal(core) }));
    self.onmessage = async (event: MessageEvent<Message>) => {
        const message = event.data;
        try {
            const { core, journal } = await started;
            self.postMessage({ id: message.id, ...reply(message, core, journal) });
        } catch (fault) {
            self.postMessage({ id: message.id, fault: String(fault) });
        }
    };
}

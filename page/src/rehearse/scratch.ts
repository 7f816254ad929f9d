// A worker with a journal of a rehearsal in it and nothing else. Lines that are taken back make it begin anew.
import { Desk } from '../desk';
import { answerIn } from '../questions';

export class Scratch<Question extends object> {
    private desk: Desk<Question | { lines: string[] }, { answer: string }> | undefined;
    private lines: string[] = [];

    constructor(private readonly file: string) {}

    /** The answer to a question about these lines. */
    async ask<T>(lines: string[], question: Question): Promise<T> {
        if (!this.lines.every((line, i) => line === lines[i])) this.end();
        this.desk ??= new Desk(this.file);
        const { desk } = this;
        const fresh = lines.slice(this.lines.length);
        this.lines = lines;
        if (fresh.length > 0) await desk.ask({ lines: fresh });
        return answerIn<T>((await desk.ask(question)).answer);
    }

    end(): void {
        this.desk?.end();
        this.desk = undefined;
        this.lines = [];
    }
}

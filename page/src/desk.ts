// A worker, and who waits for which of its replies. Questions at one desk wait for each other; desks work side by side.

interface Reply {
    id: number;
    fault?: string;
}

export class Desk<Question extends object, Answer> {
    private readonly worker: Worker;
    private readonly waiting = new Map<number, { resolve: (reply: Answer) => void; reject: (fault: Error) => void }>();
    private lastId = 0;
    private dead?: Error;

    /** @param file  and behind "?" which of the workers in it: also as its name, for what a service worker keeps has no query */
    constructor(file: string) {
        this.worker = new Worker(file, { name: file.split('?')[1] ?? '' });
        this.worker.onmessage = (event: MessageEvent<Reply & Answer>) => {
            const { id, fault } = event.data;
            const asker = this.waiting.get(id);
            this.waiting.delete(id);
            if (fault === undefined) asker?.resolve(event.data);
            else asker?.reject(new Error(fault));
        };
        this.worker.onerror = (event) => {
            this.dead = new Error(event.message || 'The worker did not start.');
            for (const asker of this.waiting.values()) asker.reject(this.dead);
            this.waiting.clear();
        };
    }

    /** Whether the worker is gone: it answers nothing any more, and another has to be started. */
    get isDead(): boolean {
        return this.dead !== undefined;
    }

    /** Ends the worker; nothing may be asked any more. */
    end(): void {
        this.worker.terminate();
    }

    ask(question: Question): Promise<Answer> {
        if (this.dead) return Promise.reject(this.dead);
        const id = ++this.lastId;
        return new Promise((resolve, reject) => {
            this.waiting.set(id, { resolve, reject });
            this.worker.postMessage({ id, ...question });
        });
    }
}

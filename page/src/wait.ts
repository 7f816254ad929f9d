// Calls of IndexedDB as promises: two are all there is to it, so that it is used bare.

export const done = <T>(request: IDBRequest<T>): Promise<T> =>
    new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error as Error);
    });

/** Everything of it is on the medium, or nothing. */
export const ended = (change: IDBTransaction): Promise<void> =>
    new Promise((resolve, reject) => {
        change.oncomplete = () => resolve();
        change.onabort = () => reject(change.error ?? new DOMException('The change was taken back.', 'AbortError'));
    });

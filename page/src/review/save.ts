// Files out of the page.

/** "2026-04-12T0934", the local clock, for names of files. */
export function fileStamp(ms: number): string {
    const local = new Date(ms - new Date(ms).getTimezoneOffset() * 60_000).toISOString();
    return local.slice(0, 16).replace(':', '');
}

export function download(name: string, text: string, type: string): void {
    const url = URL.createObjectURL(new Blob([text], { type }));
    const link = document.createElement('a');
    link.href = url;
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 60_000); // the download has begun by then
}

/** The file as the share sheet takes it; some take no journals but any text. Undefined: it takes none. */
function shareable(name: string, text: string, type: string): File | undefined {
    const files = [new File([text], name, { type }), new File([text], `${name}.txt`, { type: 'text/plain' })];
    return files.find((file) => navigator.canShare?.({ files: [file] }));
}

/** By the share sheet on a phone that shares files, else as a download. True when the file was handed over; false when the
 * share sheet was put away. */
export async function handOver(name: string, text: string, type: string): Promise<boolean> {
    const isPhone = matchMedia('(pointer: coarse)').matches;
    const file = isPhone ? shareable(name, text, type) : undefined;
    if (!file) {
        download(name, text, type);
        return true;
    }
    try {
        await navigator.share({ files: [file] });
        return true;
    } catch (fault) {
        if ((fault as Error).name === 'AbortError') return false;
        download(name, text, type); // the share sheet would not have it
        return true;
    }
}

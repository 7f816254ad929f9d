// A button that lets a file be chosen, as often as one likes, the same one too.
import { useRef } from 'preact/hooks';

export function OpenFile(props: { words: string; label: string; accept: string; onFile: (file: File | undefined) => void }) {
    const input = useRef<HTMLInputElement>(null);
    return (
        <>
            <button type="button" onClick={() => input.current?.click()}>
                {props.words}
            </button>
            <input
                ref={input}
                class="hide"
                type="file"
                tabIndex={-1}
                aria-label={props.label}
                accept={props.accept}
                onChange={(event) => {
                    props.onFile(event.currentTarget.files?.[0]);
                    event.currentTarget.value = '';
                }}
            />
        </>
    );
}

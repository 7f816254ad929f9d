// What screens share: title over the water line, tabs, the look button in its corner.
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { useLook } from './look';
import { go, type Route } from './route';

const LOOK_WORDS = { sun: 'Sun', shade: 'Shade', dusk: 'Dusk' };

/** @param press  on the Bank: the name under which its hands press it, so that rain cannot */
export function LookButton({ press }: { press?: string }) {
    const { look, next } = useLook();
    const how = press ? { 'data-press': press } : { onClick: next };
    return (
        <button type="button" class="look" aria-label={`${LOOK_WORDS[look]}, look of the screen`} {...how}>
            {LOOK_WORDS[look]}
        </button>
    );
}

/** Follows a link of the page without loading it; anything but a plain press is the browser's. */
export function follow(event: MouseEvent, route: Route): void {
    if (event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return;
    event.preventDefault();
    go(route);
}

export interface Tab {
    route: Route;
    word: string;
}

/** @param isByHand  on the Bank: its hands follow the links */
export function Tabs({ tabs, shown, isByHand }: { tabs: readonly Tab[]; shown: Route; isByHand?: boolean }) {
    return (
        <nav class="tabs" aria-label="Screens">
            {tabs.map(({ route, word }) => (
                <a
                    key={route}
                    href={`#${route}`}
                    aria-current={route === shown ? 'page' : undefined}
                    {...(isByHand
                        ? { 'data-press': `go-${route}` }
                        : { onClick: (event: MouseEvent) => follow(event, route) })}
                >
                    {word}
                </a>
            ))}
        </nav>
    );
}

/** Stands in for what a screen is not looked at without: until that is there none of it is shown, so that nothing jumps. */
export const Waits = () => <i hidden data-waits />;

const TITLE = document.title;

/** Names the window after the screen. */
export function useTitle(title: string): void {
    useEffect(() => {
        document.title = `${title} - ${TITLE}`;
    }, [title]);
}

interface FrameProps {
    title: string;
    below: string; // one line under the title
    shown: Route;
    tabs: readonly Tab[];
    children: ComponentChildren;
}

export function Frame({ title, below, shown, tabs, children }: FrameProps) {
    useTitle(title);
    return (
        <div class={tabs.length > 0 ? 'framed with-tabs' : 'framed'}>
            <header class="top">
                {tabs.length === 0 && shown !== '' ? (
                    <a class="home" href="#" onClick={(event) => follow(event, '')}>
                        Home
                    </a>
                ) : (
                    <svg class="level" viewBox="0 0 26 40" width="26" height="40" aria-hidden="true">
                        <path d="M4 20H22L13 38.5Z" />
                        <path d="M8 46H18M10.5 50H15.5" />
                    </svg>
                )}
                <div class="title">
                    <h1>{title}</h1>
                    <p>{below}</p>
                </div>
                {tabs.length > 0 && <Tabs tabs={tabs} shown={shown} />}
                <LookButton />
            </header>
            <main>{children}</main>
        </div>
    );
}

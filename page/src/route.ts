// Which screen is shown: the part of the address behind "#". In an open session the Bank lies under every other screen,
// so that the back button lands there before it leaves.
import { useLayoutEffect, useState } from 'preact/hooks';

const ROUTES = ['', 'plan', 'card', 'peg', 'pot', 'start', 'bank', 'next', 'bed', 'log', 'typeup', 'review', 'copies', 'rehearse', 'invented', 'kit', 'season', 'trial', 'settings', 'rest'] as const;
export type Route = (typeof ROUTES)[number];

/** Screens of the time before a session: with one open, the way to them ends at the Bank. */
const BEFORE: readonly Route[] = ['', 'peg', 'start', 'rehearse'];
/** Screens of an open session only. */
const DURING: readonly Route[] = ['bank', 'next', 'bed', 'rest'];

const listeners = new Set<() => void>();
const changed = () => listeners.forEach((listener) => listener());
addEventListener('popstate', changed);
addEventListener('hashchange', changed);

/** The screen that the address asks for; the first look when it is none of ours. */
export function routeNow(): Route {
    const word = location.hash.slice(1);
    return ROUTES.find((route) => route === word) ?? '';
}

/** "Back" lands on these: another screen comes over them and does not take their place. */
const UNDER: readonly Route[] = ['bank', 'plan'];
interface Place {
    over?: Route; // what lies under it
}
const place = () => (history.state ?? {}) as Place;
const address = (route: Route) => `#${route}`;

export const push = (route: Route) => {
    history.pushState({ over: routeNow() } satisfies Place, '', address(route));
    changed();
};
export const replace = (route: Route, state: Place = place()) => {
    history.replaceState(state, '', address(route));
    changed();
};

/** To another screen: the Bank and the plan stay under it for "back", other screens give way to the next one. */
export function go(route: Route): void {
    if (route === routeNow()) return;
    if (UNDER.includes(route) && place().over === route) history.back();
    else if (UNDER.includes(routeNow()) || BEFORE.includes(routeNow())) push(route);
    else replace(route);
}

/** Puts the history in order: a screen that does not go with what is open gives way, the Bank goes under the others. */
function settle(isLive: boolean): void {
    const route = routeNow();
    if (!isLive && DURING.includes(route)) replace('', {});
    else if (isLive && BEFORE.includes(route)) replace('bank', {});
    else if (isLive && route !== 'bank' && place().over !== 'bank') {
        history.replaceState({}, '', address('bank'));
        push(route);
    }
}

export function useRoute(isLive: boolean): Route {
    const [route, setRoute] = useState(routeNow);
    // Before anything is painted: a quick "back" must find the Bank there.
    useLayoutEffect(() => {
        const show = () => {
            settle(isLive);
            setRoute(routeNow());
        };
        show();
        listeners.add(show);
        return () => void listeners.delete(show);
    }, [isLive]);
    return route;
}

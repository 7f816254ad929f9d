// The kit on this device, in the format of the program's kit file (docs/formats.md): rows in lists, each with its id. A plan
// that is begun takes it.
import { kitRows, type PlanSpot, type Values } from '../plan/plan';
import type { CatalogueEntry } from '../questions';
import type { Recorder } from '../record/record';

export interface KitRow extends PlanSpot {
    was?: ({ until: string; by: string } & Values)[]; // before it was measured
}
export type Kit = Record<string, KitRow[]>;
export type ListName = 'baits' | 'pots' | 'rigs';

const KEY = 'kit';

export const loadKit = async (recorder: Recorder): Promise<Kit> => (await recorder.store.meta<Kit>(KEY)) ?? {};
export const saveKit = (recorder: Recorder, kit: Kit): Promise<void> => recorder.store.setMeta(KEY, kit);

export const rowsOf = (kit: Kit, list: string): KitRow[] => kit[list] ?? [];
export const withRow = (kit: Kit, list: string, row: KitRow): Kit => ({
    ...kit,
    [list]: [...rowsOf(kit, list).filter(({ id }) => id !== row.id), row],
});
export const withoutRow = (kit: Kit, list: string, id: string): Kit => ({
    ...kit,
    [list]: rowsOf(kit, list).filter((row) => row.id !== id),
});

/** The kit's own before the generic ones; a kit's row may stand in for a generic one of the same name.
 * @param of  a plan, or what else has a kit */
export function withKit(of: Values, rows: string, generic: readonly CatalogueEntry[]): CatalogueEntry[] {
    const titleOf = (id: string) => generic.find(({ word }) => word === id)?.title ?? id;
    const own = kitRows(of, rows).map(({ id, name }) => ({ word: id, title: name ?? titleOf(id) }));
    return [...own, ...generic.filter(({ word }) => !own.some((entry) => entry.word === word))];
}

/** As a member of a request, if there is anything in it. */
export const kitMember = (kit: Kit): { kit?: Kit } => (Object.keys(kit).length > 0 ? { kit } : {});

/** What is offered, the kit's own first. */
export const offeredWith = <Offer extends { baits: CatalogueEntry[]; pots: CatalogueEntry[] }>(kit: Kit, offer: Offer): Offer => ({
    ...offer,
    baits: withKit({ kit }, 'baits', offer.baits),
    pots: withKit({ kit }, 'pots', offer.pots),
});

/** The lists of a plan's kit with what the kit says over it, row by row. */
export function mergedKit(under: unknown, kit: Kit): Kit {
    const merged: Kit = {};
    for (const [list, rows] of Object.entries(kit)) {
        const old = kitRows({ kit: under }, list);
        const others = old.filter(({ id }) => !rows.some((row) => row.id === id));
        merged[list] = [...others, ...rows.map((row) => ({ ...old.find(({ id }) => id === row.id), ...row }))];
    }
    return { ...(under as Kit | undefined), ...merged };
}

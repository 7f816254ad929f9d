// The kit on this device, in the format of the program's kit file (docs/formats.md): rows in lists, each with its id. A plan
// that is begun takes it.
import { kitRows, type PlanSpot, type Values } from '../plan/plan';
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

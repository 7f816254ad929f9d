// Words of the core's set for the screen.

export const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

const UNITS = ['_kg_m3', '_m_s', '_m3', '_frac', '_kg', '_deg', '_m', '_s', '_c'];

/** Inputs whose names alone say too little. */
const PLAINER: Record<string, string> = {
    together: 'chance, and several inputs together',
    'bait.contact_angle_deg': 'how easily dry pieces hang on the surface',
    'bait.drag_law_error': 'how far real drag is from the published law',
    'bait.hang_s': 'how long dry pieces hang on the surface',
    'pot.fill_frac': 'how full the pot is',
    'pot.settled_frac': 'how the pieces settle in the pot',
    'pot.wall_law': 'how pieces pack along the wall of the pot',
    'put.height_m': 'how high the pot is held',
    'put.offset_out_m': 'how steadily the pot is held',
    'put.offset_side_m': 'how steadily the pot is held',
    'put.wander_frac': 'how far pieces wander as they sink',
    'put.widening_frac': 'how a tipped pot widens as it sinks',
    'water.skin_frac': 'how fast the surface drifts in a wind',
    'water.temp_c': 'how warm the water is',
    'water.wind_m_s': 'how hard the wind blows',
    'water.wind_side_deg': 'which way the wind blows',
};

/** The path of an input as words: "bait.density_kg_m3" is "the density of the bait". */
export function inputWords(path: string): string {
    const plainer = PLAINER[path];
    if (plainer) return plainer;
    const [section = '', name = ''] = path.split(/\.(?=[^.]+$)/);
    const unit = UNITS.find((one) => name.endsWith(one)) ?? '';
    const bare = name.slice(0, name.length - unit.length).replaceAll('_', ' ');
    return `the ${bare} of the ${section.replaceAll('.', ' ')}`;
}

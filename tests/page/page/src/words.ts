// The path of an input as words: "bait.density_kg_m3" is "the density of the bait".

const UNITS = ['_kg_m3', '_m_s', '_pa_s', '_m3', '_m2', '_frac', '_kg', '_deg', '_m', '_s', '_c'];
const FULLER: Record<string, string> = {
    temp: 'temperature',
    fill: 'how full it is',
    uptake: 'water uptake',
};

export function inputWords(path: string | undefined): string {
    if (!path) return '';
    if (path === 'together') return 'how one piece differs from the next';
    const [section = '', name = ''] = path.split(/\.(?=[^.]+$)/);
    const unit = UNITS.find((one) => name.endsWith(one)) ?? '';
    const bare = name.slice(0, name.length - unit.length);
    const words = FULLER[bare] ?? bare.replaceAll('_', ' ');
    return `the ${words} of the ${section.replaceAll('.', ' ')}`;
}

// Packs a drawing of few colours: a palette and a byte a pixel, where the renderer leaves three and a filter a row.
import { deflateSync, inflateSync } from 'node:zlib';

const HEAD = 8;
const RGB = 2;
const PALETTE = 3;

function* chunksOf(png) {
    for (let at = HEAD; at < png.length; ) {
        const n = png.readUInt32BE(at);
        yield [png.toString('latin1', at + 4, at + 8), png.subarray(at + 8, at + 8 + n)];
        at += n + 12;
    }
}

/** CRC-32 as PNG has it (RFC 2083, 3.4). */
function crc32(bytes) {
    let crc = -1;
    for (const byte of bytes) {
        crc ^= byte;
        for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
    }
    return ~crc >>> 0;
}

function chunk(name, bytes) {
    const named = Buffer.concat([Buffer.from(name, 'latin1'), bytes]);
    const ends = Buffer.alloc(8);
    ends.writeUInt32BE(bytes.length, 0);
    ends.writeUInt32BE(crc32(named), 4);
    return Buffer.concat([ends.subarray(0, 4), named, ends.subarray(4)]);
}

/** What a row's filter adds to each byte, from those left, above and left above (RFC 2083, 6). */
const FILTERS = [
    () => 0,
    (left) => left,
    (_, above) => above,
    (left, above) => (left + above) >> 1,
    (left, above, corner) => {
        const [a, b, c] = [left, above, corner].map((one) => Math.abs(left + above - corner - one));
        return a <= b && a <= c ? left : b <= c ? above : corner;
    },
];

/** A PNG of 8-bit RGB as it is given, or with a palette when its colours are few enough. */
export function packed(png) {
    const chunks = [...chunksOf(png)];
    const head = Buffer.from(chunks[0][1]);
    const [width, height] = [head.readUInt32BE(0), head.readUInt32BE(4)];
    if (head[8] !== 8 || head[9] !== RGB || head[12] !== 0) return png;
    const rows = inflateSync(Buffer.concat(chunks.filter(([name]) => name === 'IDAT').map(([, bytes]) => bytes)));
    const stride = 3 * width;
    const colours = new Map();
    const pixels = Buffer.alloc((width + 1) * height); // each row behind its filter: none
    let above = Buffer.alloc(stride);
    for (let y = 0; y < height; y++) {
        const at = y * (stride + 1);
        const row = rows.subarray(at + 1, at + 1 + stride);
        const filter = FILTERS[rows[at]];
        for (let x = 0; x < stride; x++) row[x] += filter(row[x - 3] ?? 0, above[x], above[x - 3] ?? 0);
        for (let x = 0; x < width; x++) {
            const colour = row.readUIntBE(3 * x, 3);
            if (!colours.has(colour)) colours.set(colour, colours.size);
            pixels[y * (width + 1) + 1 + x] = colours.get(colour);
        }
        above = row;
    }
    if (colours.size > 256) return png;
    head[9] = PALETTE;
    const palette = Buffer.alloc(3 * colours.size);
    for (const [colour, i] of colours) palette.writeUIntBE(colour, 3 * i, 3);
    const parts = [['IHDR', head], ['PLTE', palette], ['IDAT', deflateSync(pixels, { level: 9 })], ['IEND', Buffer.alloc(0)]];
    return Buffer.concat([png.subarray(0, HEAD), ...parts.map(([name, bytes]) => chunk(name, bytes))]);
}

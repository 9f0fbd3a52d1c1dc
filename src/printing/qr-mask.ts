/** Penalties of ISO/IEC 18004 for runs, blocks, false finders and unbalance (from memory). */
const RUN = 3;
const BLOCK = 3;
const FALSE_FINDER = 40;
const UNBALANCE = 10;

/** Dark-light-dark in 1:1:3:1:1 with four light modules before or after it, as bits. */
const FINDERS = [0b00001011101, 0b10111010000];
const FINDER_BITS = 0b11111111111;
const FINDER_LENGTH = 11;

/**
 * How badly a square code of so many modules a side would scan: the sum of the penalties by which
 * the standard chooses among the eight masks. `modules` holds 1 for dark, row by row.
 */
export function maskPenalty(modules: Uint8Array, side: number): number {
  let penalty = 0;
  for (let line = 0; line < side; line += 1) {
    penalty += linePenalty(modules, line * side, 1, side);
    penalty += linePenalty(modules, line, side, side);
  }
  let dark = 0;
  for (const module of modules) dark += module;
  const off = Math.abs((dark * 100) / modules.length - 50);
  return penalty + blockPenalty(modules, side) + UNBALANCE * Math.floor(off / 5);
}

/** Five alike in a row cost three, each further one a point more; so do patterns like a finder. */
function linePenalty(modules: Uint8Array, start: number, step: number, side: number): number {
  let penalty = 0;
  let run = 0;
  let last = -1;
  let bits = 0;
  for (let place = 0; place < side; place += 1) {
    const module = modules[start + place * step]!;
    run = module === last ? run + 1 : 1;
    last = module;
    if (run === 5) penalty += RUN;
    else if (run > 5) penalty += 1;
    bits = ((bits << 1) | module) & FINDER_BITS;
    if (place >= FINDER_LENGTH - 1 && FINDERS.includes(bits)) penalty += FALSE_FINDER;
  }
  return penalty;
}

/** Every two by two of one shade. */
function blockPenalty(modules: Uint8Array, side: number): number {
  let penalty = 0;
  for (let row = 1; row < side; row += 1) {
    for (let column = 1; column < side; column += 1) {
      const at = row * side + column;
      const four = modules[at]! + modules[at - 1]! + modules[at - side]! + modules[at - side - 1]!;
      if (four === 0 || four === 4) penalty += BLOCK;
    }
  }
  return penalty;
}

import bwip from "bwip-js/node";

/** Start symbol of code set C, where one symbol carries two digits (ISO/IEC 15417). */
const START_C = 105;
const MODULUS = 103;
const ELEMENTS_PER_SYMBOL = 6;
const MODULES_PER_SYMBOL = 11;
const MODULES_IN_STOP = 13;

/** Clear paper left and right of the bars, in modules: ten on each side. */
export const QUIET_MODULES = 10;

/** Module widths in millimetres: the roomy one first, then the least that cheap readers read. */
const MODULE_WIDTHS = [0.33, 0.25] as const;

/**
 * The check symbol of Code 128 in set C: the start value plus each pair times its position,
 * modulo 103. `digits` has an even number of digits.
 */
export function checkSymbol(digits: string): number {
  let sum = START_C;
  for (let index = 0; index < digits.length; index += 2) {
    sum += (index / 2 + 1) * Number(digits.slice(index, index + 2));
  }
  return sum % MODULUS;
}

/** How many modules the bars of so many digits take, without the quiet zones. */
export const modulesFor = (digitCount: number): number =>
  (2 + digitCount / 2) * MODULES_PER_SYMBOL + MODULES_IN_STOP;

/**
 * The element widths of the tag's bar code in modules: bar, space, bar … and a last bar.
 * Assembled from a table that the library fills once, because asking it for every tag of a large
 * sale would take longer than all the rest of the printing.
 */
export function barWidths(digits: string): number[] {
  if (!/^(\d\d)+$/.test(digits)) {
    throw new RangeError(`A bar code in set C needs an even number of digits, not "${digits}".`);
  }
  const { start, symbols, stop } = symbolTable();
  const widths = [...start];
  for (let index = 0; index < digits.length; index += 2) {
    widths.push(...symbols[Number(digits.slice(index, index + 2))]!);
  }
  widths.push(...symbols[checkSymbol(digits)]!, ...stop);
  return widths;
}

/** The module width in millimetres that lets the bars and both quiet zones stand in the room. */
export function moduleWidth(digitCount: number, room: number): number {
  const modules = modulesFor(digitCount) + 2 * QUIET_MODULES;
  const width = MODULE_WIDTHS.find((candidate) => candidate * modules <= room);
  if (width === undefined) throw new RangeError(`No bar code of ${modules} modules in ${room} mm.`);
  return width;
}

interface SymbolTable {
  start: number[];
  symbols: number[][];
  stop: number[];
}

let table: SymbolTable | undefined;

function symbolTable(): SymbolTable {
  table ??= readSymbolTable();
  return table;
}

/** One raw bar code that holds every symbol value in order, cut into its symbols. */
function readSymbolTable(): SymbolTable {
  const values = Array.from({ length: MODULUS }, (_, value) => value);
  const codewords = [START_C, ...values].map((value) => `^${String(value).padStart(3, "0")}`);
  // The library's types leave out the option that hands code words through unchanged.
  const [drawn] = bwip.raw("code128", codewords.join(""), { raw: true } as object);
  if (drawn === undefined || !("sbs" in drawn)) throw new Error("The library drew no bars.");
  const cut = (symbol: number, length = ELEMENTS_PER_SYMBOL): number[] =>
    drawn.sbs.slice(symbol * ELEMENTS_PER_SYMBOL, symbol * ELEMENTS_PER_SYMBOL + length);
  return {
    start: cut(0),
    symbols: values.map((value) => cut(value + 1)),
    // The library's own check symbol stands between the last value and the stop symbol.
    stop: cut(MODULUS + 2, ELEMENTS_PER_SYMBOL + 1),
  };
}

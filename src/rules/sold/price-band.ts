import { digitsOf } from "../currency.ts";
import type { Minor } from "../money.ts";

/** Round steps in whole units, for a currency with hundredths. */
const steps = [10, 20, 50, 100, 200, 500] as const;

/**
 * Where one price band ends and the next begins, in smallest coins. A currency without smaller
 * coins counts in units that are worth about a hundredth, so its steps are a hundred times as many.
 */
export function bandEdges(currency: string): Minor[] {
  const digits = digitsOf(currency);
  const coins = 10 ** Math.max(2, digits);
  return steps.map((step) => step * coins);
}

/** Which band a price lies in: 0 for the cheapest. A price at an edge opens the next band. */
export const bandOf = (price: Minor, currency: string): number =>
  bandEdges(currency).filter((edge) => price >= edge).length;

/** "Under $10", "$10 to under $20" and so on. */
export function bandWords(band: number, currency: string, money: (amount: Minor) => string) {
  const edges = bandEdges(currency);
  const digits = digitsOf(currency);
  // Edges are whole, so nothing is lost with their decimals, and the words stay short.
  const decimals = new RegExp(`[.,]0{${digits}}(?!\\d)`);
  const round = (amount: Minor) =>
    digits === 0 ? money(amount) : money(amount).replace(decimals, "");
  const [from, to] = [edges[band - 1], edges[band]];
  if (from === undefined) return `Under ${round(edges[0]!)}`;
  return to === undefined ? `${round(from)} and more` : `${round(from)} to under ${round(to)}`;
}

import { ok, type Result, refuseField } from "../problem.ts";

/**
 * Reads "10" or "12.5 %" as thousandths of a percent that come off; empty means that nothing does.
 * All of a price cannot come off.
 */
export function readLess(text: string, field = "less"): Result<number> {
  const bare = text
    .normalize("NFKC")
    .replace(/\s*%\s*$/, "")
    .trim();
  if (bare === "") return ok(0);
  const [, whole, fraction = ""] = /^(\d{1,2})(?:[.,](\d{1,3}))?$/.exec(bare) ?? [];
  if (whole === undefined)
    return refuseField(field, "Type how many percent come off, such as 10, or leave it empty.");
  return ok(Number(whole + fraction.padEnd(3, "0")));
}

/**
 * A price with so many thousandths of a percent off, on the nearest step of the sale (halves go
 * up) and never below its lowest price.
 */
export function lessPrice(
  price: number,
  less: number,
  { priceStep, priceFloor }: { priceStep: number; priceFloor: number },
): number {
  if (less === 0) return price;
  const wanted = BigInt(price) * BigInt(100_000 - less);
  const step = BigInt(priceStep) * 100_000n;
  const steps = (2n * wanted + step) / (2n * step);
  const near = Number(steps) * priceStep;
  const lowest = priceFloor + ((priceStep - (priceFloor % priceStep)) % priceStep);
  return Math.max(near, lowest);
}

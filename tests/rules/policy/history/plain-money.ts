/** Rounding and splitting written once more, on fractions of BigInt, without any of our rules. */

/** n / d to the nearest whole, a half away from zero ("up") or to the even one. */
export function nearest(n: bigint, d: bigint, halves: "up" | "even" = "up"): bigint {
  if (n < 0n) return -nearest(-n, d, halves);
  const below = n / d;
  const twice = 2n * (n - below * d);
  if (twice < d) return below;
  if (twice > d || halves === "up") return below + 1n;
  return below % 2n === 0n ? below : below + 1n;
}

export const percent = (amount: bigint, rate: number, halves: "up" | "even" = "up"): bigint =>
  nearest(amount * BigInt(rate), 100_000n, halves);

/** What pieces `from`+1 to `to` of `of` alike ones are of an amount, by cumulative rounding. */
export const slice = (amount: bigint, of: number, from: number, to: number): bigint =>
  nearest(amount * BigInt(to), BigInt(of)) - nearest(amount * BigInt(from), BigInt(of));

/** Coin by coin: each coin left over goes to whoever is furthest below their exact part. */
export function deal(amount: bigint, weights: bigint[]): bigint[] {
  const whole = weights.reduce((sum, weight) => sum + weight, 0n);
  if (whole === 0n) return weights.map(() => 0n);
  const parts = weights.map((weight) => (amount * weight) / whole);
  const got = weights.map(() => false);
  for (let left = amount - sum(parts); left > 0n; left -= 1n) {
    let best = -1;
    for (const [at, weight] of weights.entries()) {
      const short = (amount * weight) % whole;
      if (!got[at] && (best < 0 || short > (amount * weights[best]!) % whole)) best = at;
    }
    got[best] = true;
    parts[best]! += 1n;
  }
  return parts;
}

export const sum = (amounts: Iterable<bigint>): bigint => {
  let all = 0n;
  for (const amount of amounts) all += amount;
  return all;
};

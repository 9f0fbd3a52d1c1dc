import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type PayoutPolicy, payoutOf } from "../../../src/rules/policy/payout.ts";

// Small balances that are held stand in printed rules of craft shops; the amounts are ours.
const policy: PayoutPolicy = {
  minimum: 500,
  tenders: [
    { method: "cash", upTo: 2000 },
    { method: "cheque", upTo: null },
    { method: "transfer", upTo: null },
  ],
};
const noWish = { method: null, payAll: false };

describe("a balance", () => {
  test.each([
    [19_400, "paid", 19_400, 0],
    [500, "paid", 500, 0],
    [499, "below-minimum", 0, 499],
    [0, "nothing-due", 0, 0],
    [-1147, "owed-by-member", 0, -1147],
  ])("of %i: %s, %i paid and %i carried", (balance, why, paid, carried) => {
    expect(payoutOf(policy, balance, noWish)).toMatchObject({ why, paid, carried });
  });

  test("below the minimum is paid to whoever leaves, but a debt never", () => {
    const leaving = { method: null, payAll: true };
    expect(payoutOf(policy, 1, leaving)).toMatchObject({ paid: 1, carried: 0, method: "cash" });
    expect(payoutOf(policy, -1, leaving)).toMatchObject({ paid: 0, carried: -1, method: null });
  });
});

test("the first tender that takes the amount pays, or the one that the member wishes", () => {
  const method = (balance: number, wish: "cash" | "cheque" | "transfer" | null) =>
    payoutOf(policy, balance, { method: wish, payAll: false }).method;
  expect([method(2000, null), method(2001, null)]).toEqual(["cash", "cheque"]);
  expect([method(2000, "transfer"), method(2001, "cash")]).toEqual(["transfer", "cheque"]);
  expect(method(499, "cash")).toBeNull();
  const cashOnly = { minimum: 0, tenders: [{ method: "cash" as const, upTo: 2000 }] };
  expect(() => payoutOf(cashOnly, 2001, noWish)).toThrow("No tender");
  expect(payoutOf(cashOnly, 2000, { method: "cheque", payAll: false }).method).toBe("cash");
});

test("over many sales everything earned is paid or carried, and a debt comes off first", () => {
  const earned = fc.array(fc.integer({ min: -3000, max: 3000 }), { maxLength: 12 });
  fc.assert(
    fc.property(earned, fc.nat(4000), (sales, minimum) => {
      let [carried, paidSoFar, earnedSoFar] = [0, 0, 0];
      for (const net of sales) {
        const payout = payoutOf({ ...policy, minimum }, carried + net, noWish);
        carried = payout.carried;
        paidSoFar += payout.paid;
        earnedSoFar += net;
        expect(paidSoFar + carried).toBe(earnedSoFar);
        expect(payout.paid === 0).toBe(payout.method === null);
        expect(payout.paid === 0 || payout.paid >= minimum).toBe(true);
        expect(carried < minimum || carried === 0).toBe(true);
      }
    }),
  );
});

import fc from "fast-check";
import { expect, test } from "vitest";
import { Books } from "./history/books.ts";
import { decided, histories } from "./history/commands.ts";
import { compareKept } from "./history/compare.ts";
import { newWorld } from "./history/facts.ts";
import { Model } from "./history/model.ts";

/** So many histories; HISTORIES asks for more or fewer of them. */
const runs = Number(process.env.HISTORIES ?? 10_000);

/**
 * Our rules against a model that shares no line with them: sales, refunds, voids, discounts, fees,
 * shifts, adjustments, losses, pieces found again, settlements with and without a known card fee,
 * payouts, void payouts, policies that change and sales that follow each other, in any order.
 */
test(`${runs} histories: the rules and a plain model agree to the coin`, {
  timeout: 300_000,
}, () => {
  let [settlements, supplementary, deeds] = [0, 0, 0];
  fc.assert(
    fc.property(decided, histories, (policy, commands) => {
      const books = new Books();
      fc.modelRun(() => {
        const model = new Model();
        return { model: { world: newWorld(policy), model }, real: books };
      }, commands);
      compareKept(books);
      settlements += books.statements.length;
      supplementary +=
        books.statements.length -
        new Set(books.statements.map(({ sale, memberId }) => `${sale} ${memberId}`)).size;
      deeds += books.entries;
    }),
    { numRuns: runs },
  );
  // A walk that never settles would prove nothing.
  expect(settlements).toBeGreaterThan(runs);
  expect(supplementary).toBeGreaterThan(runs / 4);
  expect(deeds).toBeGreaterThan(3 * runs);
});

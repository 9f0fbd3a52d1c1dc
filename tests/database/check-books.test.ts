import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { recordAdjustment } from "../../src/actions/adjustments/record-adjustment.ts";
import { takeBackAdjustment } from "../../src/actions/adjustments/take-back-adjustment.ts";
import { payRunItems } from "../../src/actions/end-run-items.ts";
import { moveCash } from "../../src/actions/move-cash.ts";
import { prepareRun } from "../../src/actions/prepare-run.ts";
import { recordDeposit } from "../../src/actions/record-deposit.ts";
import { recordPayout } from "../../src/actions/record-payout.ts";
import { voidPayout } from "../../src/actions/void-payout.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { deedOf } from "../support/build.ts";
import {
  buildSettling,
  closeTill,
  done,
  giveBack,
  settleNow,
} from "../support/build-settlement.ts";
import { brokenBy, type Cheat } from "../support/cheat.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;

/** A sale with everything in it: settled, paid, voided, paid again, returned, settled once more. */
beforeAll(async () => {
  base = await freshDatabase();
  const { db } = base;
  const hall = await buildSettling(db);
  const { settlementId } = await settleNow(db, hall);
  const statement = await db.statement.findFirstOrThrow({
    where: { settlementId },
    orderBy: { number: "asc" },
  });
  const deed = deedOf(db, hall.treasurer);
  const input = { statementId: statement.id, reference: "1001", paidOn: "2026-12-05" } as const;
  const first = done(await recordPayout(deed, { ...input, method: "cheque" }));
  done(await voidPayout(deed, { payoutId: first.payoutId, reason: "Lost in the post" }));
  const again = { saleId: null, statementIds: [statement.id], day: input.paidOn, firstCheque: "" };
  const { runId } = done(await prepareRun(deed, { ...again, method: "cash" }));
  done(await payRunItems(deed, runId, { positions: null, paidOn: input.paidOn }));
  await giveBack(db, hall, hall.receipts.stack, 1);
  const move = { id: v7(), tillId: hall.tills[0]!.id, kind: "to-safe", amount: 700 } as const;
  done(await moveCash(deed, { ...move, reason: "" }));
  await closeTill(db, hall);
  await settleNow(db, hall);
  const adjustment = { member: hall.other.number, amount: 250, reason: "Brought tables" };
  const { id } = done(await recordAdjustment(deed, hall.sale.id, adjustment));
  done(await takeBackAdjustment(deed, { adjustmentId: id, reason: "Paid already" }));
  const banked = { source: "safe", amount: 700, bankedOn: "2026-11-27", reference: "" } as const;
  done(await recordDeposit(deed, { ...banked, saleId: hall.sale.id }));
});
afterAll(() => base.drop());

test("honest books are sound, and every check looked at something", async () => {
  const books = await checkBooks(base.db);
  expect(books).toMatchObject({ sound: true, unaccounted: { pieces: 0, money: 0 } });
  expect(books.checks.filter(({ checked }) => checked === 0)).toEqual([]);
  expect(new Set(books.checks.map(({ invariant }) => invariant))).toEqual(
    new Set([1, 2, 3, 4, 5, 6]),
  );
});

const cheats: Cheat[] = [
  [
    1,
    "UPDATE posting SET amount = amount + 1 WHERE id = (SELECT min(id) FROM posting)",
    /^Entry 1 .*sums to 1 /,
  ],
  [
    1,
    "DELETE FROM posting WHERE entry_id = (SELECT id FROM journal_entry ORDER BY number LIMIT 1)",
    /has no postings/,
  ],
  [1, "DELETE FROM journal_entry WHERE number = 1", /belongs to no entry/],
  [
    2,
    "UPDATE item_count SET on_floor = on_floor + 1, entered = entered + 1 WHERE on_floor = 1",
    /^Item \d{8} says/,
  ],
  [
    2,
    "DELETE FROM movement WHERE id = (SELECT max(id) FROM movement WHERE kind = 'sold')",
    /^Item \d{8} says/,
  ],
  [2, "UPDATE item SET quantity = quantity + 1 WHERE quantity = 3", /^Item \d{8} says 4 pieces/],
  [
    3,
    "UPDATE posting SET amount = amount * 2 WHERE entry_id = (SELECT id FROM journal_entry WHERE kind = 'payout' LIMIT 1)",
    /^Member 100 is owed/,
  ],
  [
    3,
    "UPDATE statement SET guild_share = guild_share - 1, net = net + 1, due = due + 1 WHERE gross = 3333",
    /^Member \d+ is owed/,
  ],
  [
    3,
    "UPDATE posting SET amount = amount - 5 WHERE account_key LIKE 'drawer/%' AND id = (SELECT min(id) FROM posting WHERE account_key LIKE 'drawer/%')",
    /drawer still holds -5/,
  ],
  [3, "UPDATE adjustment SET amount = 251 WHERE amount = 250", /^The adjustment .* books/],
  [3, "DELETE FROM journal_entry WHERE kind = 'adjustment'", /^The adjustment .* books nothing/],
  [
    3,
    "UPDATE posting SET account_key = 'fees' WHERE account_key = 'adjustments' AND amount = 250",
    /^The adjustment .* books .* on (fees|adjustments) instead of/,
  ],
  [
    3,
    "UPDATE adjustment SET takes_back_id = '00000000-0000-7000-8000-000000000000' WHERE takes_back_id IS NOT NULL",
    /is not the opposite of what it takes back/,
  ],
  [5, "DELETE FROM audit WHERE deed = 'record-adjustment'", /^Adjustment .* is not in the audit/],
  [
    4,
    "UPDATE till_session SET float = float + 1 WHERE id = (SELECT min(id::text)::uuid FROM till_session)",
    /^The float of session .* instead of/,
  ],
  [4, "UPDATE cash_move SET kind = 'paid-in', reason = 'x'", /^The move of cash .* on drawer/],
  [4, "DELETE FROM journal_entry WHERE kind = 'cash-move'", /^The move of cash .* books nothing/],
  [
    4,
    "UPDATE cash_up SET counted = counted - 5, difference = difference - 5",
    /^The cash-up of session .* on cash-box/,
  ],
  [
    4,
    "UPDATE cash_up SET expected = expected + 7, difference = difference - 7",
    /^Till 1 of Autumn sale expected/,
  ],
  [4, "DELETE FROM cash_up", /closed without a cash-up/],
  [3, "UPDATE deposit SET amount = amount + 5", /^The deposit .* books 700 on bank instead of 705/],
  [3, "UPDATE deposit SET source = 'cheques'", /^The deposit .* on (cheques|safe)/],
  [
    3,
    "UPDATE journal_entry SET sale_id = NULL WHERE kind = 'receipt' AND number = (SELECT min(number) FROM journal_entry WHERE kind = 'receipt')",
    /^The receipts of Autumn sale put \d+ on drawer; its accounts took in \d+/,
  ],
  [5, "DELETE FROM audit WHERE deed = 'move-cash'", /^Move of cash .* is not in the audit list/],
  [
    4,
    "DELETE FROM receipt WHERE number = 2",
    /^Till 1 of Autumn sale has 3 receipts numbered 1 to 4/,
  ],
  [
    4,
    "UPDATE receipt SET subtotal = subtotal + 1, total = total + 1 WHERE number = 1",
    /^Receipt 1-1 says/,
  ],
  [
    4,
    "UPDATE receipt_tender SET amount = amount + 1 WHERE id = (SELECT min(id) FROM receipt_tender)",
    /its tenders/,
  ],
  [
    4,
    "UPDATE receipt_line SET member_id = (SELECT id FROM member WHERE number = 101) WHERE amount = 4500",
    /of another sale or member/,
  ],
  [
    4,
    "UPDATE receipt_tender SET kind = 'card' WHERE id = (SELECT min(id) FROM receipt_tender)",
    /books nothing on card-clearing/,
  ],
  [4, "DELETE FROM journal_entry WHERE kind = 'receipt'", /^Receipt 1-1 books nothing/],
  [
    4,
    "UPDATE movement SET quantity = quantity + 1 WHERE id = (SELECT max(id) FROM movement WHERE kind = 'sold')",
    /^The line of item \d{8} names/,
  ],
  [
    5,
    "UPDATE receipt_line SET reverses_line_id = (SELECT id FROM receipt_line WHERE amount = 4500), quantity = -2, amount = unit_price * -2 WHERE reverses_line_id IS NOT NULL",
    /took back 2/,
  ],
  [
    5,
    "UPDATE receipt SET reverses_id = '00000000-0000-7000-8000-000000000000' WHERE kind = 'return'",
    /without a reason or an original/,
  ],
  [
    5,
    "UPDATE receipt SET cashier_id = '00000000-0000-7000-8000-000000000000' WHERE number = 3",
    /^Receipt .* names nobody/,
  ],
  [
    5,
    "DELETE FROM audit WHERE deed = 'finalise-settlement'",
    /^Settlement .* is not in the audit list/,
  ],
  [5, "ALTER TABLE posting DISABLE TRIGGER keep_rows", /^The table posting can be changed/],
  [5, "DROP TRIGGER keep_table ON statement", /^The table statement can be changed/],
  [
    6,
    "DELETE FROM statement_line WHERE amount = 4500",
    /^Settlement 1 of Autumn sale no longer holds/,
  ],
  [
    6,
    "UPDATE statement_line SET net = net - 1, guild_share = guild_share + 1 WHERE amount = 1235",
    /no longer holds/,
  ],
  [
    6,
    "UPDATE settlement SET gross = gross + 1, net = net + 1 WHERE number = 1",
    /^Settlement 1 of Autumn sale says/,
  ],
  [6, "UPDATE statement SET number = 9 WHERE number = 3", /one is missing/],
  [
    6,
    "UPDATE statement SET gross = gross + 1, net = net + 1, due = due + 1 WHERE number = 2",
    /^Statement 2 says/,
  ],
  [
    6,
    "UPDATE statement_line SET description = 'Silk' WHERE amount = 4500",
    /^Line 1 of statement 1 /,
  ],
  [6, "DELETE FROM journal_entry WHERE kind = 'settlement'", /^The settlement .* books nothing/],
  [
    6,
    "UPDATE payout SET method = 'transfer' WHERE method = 'cash'",
    /^The payout .* on cash-box instead of nothing|on bank instead of/,
  ],
  [6, "DELETE FROM payout_void", /^Statement 1 is paid 2 times/],
  [6, "UPDATE payout SET amount = 1 WHERE attempt = 2", /^Payout .* pays 1 for statement 1/],
];

test.each(cheats)("invariant %i notices: %s", async (invariant, sql, named) => {
  const { rows, broken } = await brokenBy(base.db, sql);
  if (!/^(ALTER|DROP)/.test(sql)) expect(rows).toBeGreaterThan(0);
  const words = broken.filter((check) => check.invariant === invariant).map((one) => one.broken);
  expect(words).toEqual(expect.arrayContaining([expect.stringMatching(named)]));
});

describe("the service's own connection", () => {
  const ledger = [
    "movement",
    "receipt",
    "receipt_line",
    "receipt_tender",
    "journal_entry",
    "posting",
    "settlement",
    "statement",
    "statement_line",
    "statement_unsold",
    "payout",
    "payout_void",
    "cash_up",
    "audit",
    "adjustment",
  ];

  test.each(ledger)("cannot change, delete or empty %s", async (table) => {
    const column = table === "statement_line" || table === "statement_unsold" ? "tag" : null;
    const first = await base.db.$queryRawUnsafe<{ name: string }[]>(
      `SELECT column_name AS name FROM information_schema.columns WHERE table_name = '${table}' ORDER BY ordinal_position DESC LIMIT 1`,
    );
    const name = column ?? first[0]!.name;
    for (const sql of [
      `UPDATE "${table}" SET "${name}" = "${name}"`,
      `DELETE FROM "${table}"`,
      `TRUNCATE "${table}" CASCADE`,
    ])
      await expect(base.db.$executeRawUnsafe(sql)).rejects.toThrow(/never changed or deleted/);
  });
});

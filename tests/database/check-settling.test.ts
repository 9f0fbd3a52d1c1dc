import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { finaliseSettlement } from "../../src/actions/finalise-settlement.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { previewSettlement } from "../../src/database/settlement-preview.ts";
import { deedOf } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { buildAdjustment, byCard, decide, movePiece } from "../support/build-policy.ts";
import { buildSettling, done, giveBack, sell, withTillsShut } from "../support/build-settlement.ts";
import { buildPieces } from "../support/build-till.ts";
import { brokenBy, type Cheat } from "../support/cheat.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;

/**
 * A sale with everything that a policy can bring: fees, a card's fee, a lost piece, adjustments on
 * a statement and not yet on one, two people for each settlement, and a statement that holds.
 */
beforeAll(async () => {
  base = await freshDatabase();
  const { db } = base;
  const hall = await buildSettling(db);
  const settle = async () => {
    const { fingerprint } = await previewSettlement(db, hall.sale.id);
    await withTillsShut(db, hall, async () => {
      for (const who of [hall.treasurer, hall.chair])
        done(await finaliseSettlement(deedOf(db, who), { saleId: hall.sale.id, fingerprint }));
    });
  };
  const [cape, rug] = await buildPieces(db, hall.sale, hall.weaver, [
    { price: 20_000 },
    { price: 8_000 },
  ]);
  await moveTo(db, hall.sale, "selling");
  await sell(db, hall, [cape!], byCard(hall.tills[0]!, [cape!]));
  await moveTo(db, hall.sale, "settling");
  await db.guild.update({ where: { id: 1 }, data: { secondPersonAbove: 0n } });
  const policy = {
    ...{ fees: { entry: 500, late: 100 }, loss: { rule: "price-less-share" as const } },
    cardFee: { way: "price", rate: 2_900 },
  } as const;
  await decide(db, hall.sale, policy);
  await movePiece(db, rug!, "lost", hall.treasurer.id);
  await buildAdjustment(db, hall.sale, hall.weaver, 750);
  await settle();
  await giveBack(db, hall, hall.receipts.stack, 1);
  await decide(db, hall.sale, { ...policy, payout: { minimum: 100_000 } });
  await buildAdjustment(db, hall.sale, hall.weaver, 4_000, "Tags printed twice");
  await settle();
  await buildAdjustment(db, hall.sale, hall.other, 333, "Not yet on a statement");
});
afterAll(() => base.drop());

test("honest books are sound", async () => {
  const books = await checkBooks(base.db);
  expect(books.checks.filter(({ broken }) => broken)).toEqual([]);
  expect(books.unaccounted).toEqual({ pieces: 0, money: 0 });
  const held = await base.db.statement.findFirst({ where: { due: 0n, net: { gt: 0n } } });
  expect(held).not.toBeNull();
});

const firstId = "(SELECT id FROM statement WHERE number = 1)";
const nobody = "'00000000-0000-7000-8000-000000000000'";
const weaver = "(SELECT id FROM member WHERE number = 100)";
const lastItem = `statement_id = ${firstId} AND kind = 'loss'`;
const notHeld = /^Settlement 1 of Autumn sale no longer holds/;

/** Each figure of a statement and of a settlement, moved by a coin with its net to hide it. */
const figures = (["card_fee", "fees", "losses", "adjustments"] as const).flatMap(
  (name): Cheat[] => {
    const way = name === "losses" || name === "adjustments" ? "+" : "-";
    const moved = `${name} = ${name} + 1, net = net ${way} 1`;
    return [
      [6, `UPDATE settlement SET ${moved} WHERE number = 1`, /^Settlement 1 of Autumn sale says/],
      [
        6,
        `UPDATE statement SET ${moved}, due = due ${way} 1 WHERE number = 1`,
        /^Statement 1 says/,
      ],
    ];
  },
);

const cheats: Cheat[] = [
  ...figures,
  [6, "UPDATE statement SET carried = carried + 1 WHERE number = 3", /^Statement 3 carries 1;/],
  [6, "UPDATE statement SET due = 0 WHERE number = 1", notHeld],
  [6, "UPDATE statement SET pay_method = 'cash' WHERE number = 1", notHeld],
  [
    6,
    "UPDATE statement_line SET card_fee = card_fee - 1, net = net + 1 WHERE card_fee > 0",
    notHeld,
  ],
  [
    6,
    "UPDATE statement_line SET card_fee = card_fee - 1, guild_share = guild_share + 1 WHERE card_fee > 0",
    notHeld,
  ],
  [6, "UPDATE statement_line SET ground = '0 %' WHERE amount = 4500", notHeld],
  [6, `UPDATE statement_item SET amount = amount + 1 WHERE ${lastItem}`, notHeld],
  [6, `UPDATE statement_item SET count = count + 1 WHERE ${lastItem}`, notHeld],
  [6, `UPDATE statement_item SET words = 'Gift' WHERE ${lastItem}`, notHeld],
  [6, `UPDATE statement_item SET kind = 'late' WHERE ${lastItem}`, notHeld],
  [6, `UPDATE statement_item SET item_id = NULL WHERE ${lastItem}`, notHeld],
  [
    6,
    `UPDATE statement_item SET position = 99 - position WHERE statement_id = ${firstId}`,
    notHeld,
  ],
  [
    6,
    `UPDATE statement_item SET statement_id = (SELECT id FROM statement WHERE number = 2), position = 9 WHERE ${lastItem}`,
    notHeld,
  ],
  [6, `DELETE FROM statement_item WHERE ${lastItem}`, notHeld],
  [
    6,
    "UPDATE adjustment SET amount = amount + 1 WHERE amount = 750",
    /^Item \d of statement 1 differs from its adjustment/,
  ],
  [
    6,
    "UPDATE adjustment SET reason = 'A gift' WHERE amount = 750",
    /^Item \d of statement 1 differs from its adjustment/,
  ],
  [3, "UPDATE adjustment SET amount = amount + 1 WHERE amount = 333", /^Member \d+ is owed/],
  [3, `UPDATE adjustment SET member_id = ${weaver} WHERE amount = 333`, /^Member 100 is owed/],
  [3, "DELETE FROM adjustment WHERE amount = 333", /^Member \d+ is owed/],
  [5, "UPDATE settlement SET approved_by_id = NULL WHERE number = 1", /names other people/],
  [5, `UPDATE settlement SET approved_by_id = ${nobody} WHERE number = 1`, /names other people/],
  [
    5,
    `UPDATE settlement SET by_id = ${weaver} WHERE number = 1`,
    /^Settlement 1 of Autumn sale was agreed to by a second person and proposed by nobody/,
  ],
  [5, "DELETE FROM settlement_proposal", /proposed by nobody/],
  [5, "UPDATE settlement_proposal SET net = net + 1", /proposed by nobody/],
  [5, `UPDATE settlement_proposal SET by_id = ${weaver}`, /proposed by nobody/],
  [5, "UPDATE settlement_proposal SET fingerprint = 'x'", /proposed by nobody/],
  [5, "UPDATE settlement SET policy_version = 1 WHERE number = 1", /goes by policy 1, which/],
  [5, "DELETE FROM sale_policy WHERE version = 2", /goes by policy 2, which/],
  [
    5,
    "UPDATE settlement SET card_fee_whole = card_fee_whole + 1 WHERE number = 1",
    /^Settlement 1 of Autumn sale shared a fee for cards of 581/,
  ],
];

test.each(cheats)("invariant %i notices: %s", async (invariant, sql, named) => {
  const { rows, broken } = await brokenBy(base.db, sql);
  expect(rows).toBeGreaterThan(0);
  const words = broken.filter((check) => check.invariant === invariant).map((one) => one.broken);
  expect(words).toEqual(expect.arrayContaining([expect.stringMatching(named)]));
});

const kept = ["sale_policy", "adjustment", "settlement_proposal", "statement_item"];

describe.each(kept)("%s", (table) => {
  const changes = [
    `UPDATE ${table} SET ${table === "sale_policy" ? "version = version" : "id = id"}`.replace(
      "statement_item SET id = id",
      "statement_item SET words = words",
    ),
    `DELETE FROM ${table}`,
    `TRUNCATE ${table} CASCADE`,
  ];

  test("the service's own connection cannot change, delete or empty it", async () => {
    for (const sql of changes)
      await expect(base.db.$executeRawUnsafe(sql)).rejects.toThrow(/never changed or deleted/);
  });

  // The service owns its tables and so could switch a guard off; then check-books names the table.
  test.each(["keep_rows", "keep_table"])("its guard %s cannot be off unnoticed", async (guard) => {
    const { broken } = await brokenBy(base.db, `ALTER TABLE ${table} DISABLE TRIGGER ${guard}`);
    expect(broken.map((one) => one.broken)).toEqual([
      `The table ${table} can be changed: its guard ${guard} is off or missing`,
    ]);
  });

  test("a role with every right but ownership cannot get round the guards", async () => {
    for (const sql of [
      ...changes,
      `ALTER TABLE ${table} DISABLE TRIGGER ALL`,
      `DROP TRIGGER keep_rows ON ${table}`,
      `DROP TABLE ${table} CASCADE`,
      "SET session_replication_role = replica",
    ])
      await expect(asPlainRole(sql)).rejects.toThrow(
        /never changed or deleted|must be owner|permission denied/,
      );
  });
});

/** Runs a statement as somebody who may do everything with the rows, and undoes it. */
const asPlainRole = (sql: string) =>
  base.db.$transaction(async (tx) => {
    const role = "cheat_of_this_test";
    await tx.$executeRawUnsafe(`CREATE ROLE ${role}`);
    await tx.$executeRawUnsafe(`GRANT ALL ON ALL TABLES IN SCHEMA public TO ${role}`);
    await tx.$executeRawUnsafe(`SET LOCAL ROLE ${role}`);
    await tx.$executeRawUnsafe(sql);
    throw new Error(`Nothing stopped: ${sql}`);
  });

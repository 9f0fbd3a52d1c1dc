import { v7 } from "uuid";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { mailStatements } from "../../src/actions/mail-statements.ts";
import { voidReceipt } from "../../src/actions/void-receipt.ts";
import { deedOf } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { done, giveBack, sell, settleNow } from "../support/build-settlement.ts";
import { buildHall, buildPieces } from "../support/build-till.ts";
import { type LetterPost, letterPost, site, stopLinkIn } from "../support/letter-post.ts";

let post: LetterPost;
let hall: Awaited<ReturnType<typeof buildHall>>;
beforeAll(async () => {
  post = await letterPost();
  hall = await buildHall(post.db, 1, 100_000);
});
afterAll(() => post.close());
afterEach(async () => {
  expect(await post.tidy()).toEqual([]);
  await post.db.checkInChoice.deleteMany();
});

const piece = async (more: object = {}) =>
  (await buildPieces(post.db, hall.sale, hall.weaver, [{ price: 4_500, ...more }]))[0]!;
const takeBack = (receiptId: string) =>
  voidReceipt(deedOf(post.db, hall.treasurer), { receiptId, reason: "Wrong piece" });

test("a first piece sold is told of to whoever asked, once, and to nobody else", async () => {
  const [scarf, shawl] = [await piece(), await piece()];
  await post.look();
  const first = await sell(post.db, hall, [scarf]);
  await post.look();
  expect(post.arrived()).toEqual([]);
  await post.want(hall.weaver.id, "first-sold", true);
  await post.look();
  await sell(post.db, hall, [shawl]);
  await post.look();
  expect(post.arrived()).toEqual([hall.weaver.email]);
  const { subject, text } = post.server.letters[0]!;
  expect(subject).toBe("Autumn sale: your first piece is sold");
  expect(text).toContain("Scarf 1 (tag ");
  expect(text).toContain(`${site}/results/${hall.sale.id}`);
  expect(stopLinkIn(text)).toEqual({ memberId: hall.weaver.id, kind: "first-sold" });
  // Its void later changes nothing: the letter stays the only one.
  done(await takeBack(first));
  await post.look();
  expect(post.server.letters).toHaveLength(1);
  await post.db.$executeRaw`DELETE FROM letter_choice`;
});

test("a sale that is voided between writing and sending tells nothing, and the next one does", async () => {
  const { db } = post;
  const member = hall.cashier;
  const [one] = await buildPieces(db, hall.sale, member, [{ price: 2_000, quantity: 2 }]);
  await post.want(member.id, "first-sold", true);
  const receipt = await sell(db, hall, [one!]);
  post.server.refuse({ at: "message", code: 451, words: "Not now" });
  post.at(new Date());
  await post.look();
  expect(await post.rows()).toMatchObject([{ state: "waiting", tries: 1 }]);
  done(await takeBack(receipt));
  post.server.refuse();
  post.at(new Date(Date.now() + 120_000));
  await post.look();
  expect([await post.rows(), post.arrived()]).toEqual([[], []]);
  const second = await sell(db, hall, [one!]);
  await giveBack(db, hall, second);
  await post.look();
  expect(post.arrived()).toEqual([]);
  await sell(db, hall, [one!]);
  await post.look();
  expect(post.arrived()).toEqual([member.email]);
});

test("what is nobody's yet is no first piece", async () => {
  const [one] = await buildPieces(post.db, hall.sale, hall.chair, [{ price: 3_000 }]);
  await post.want(hall.chair.id, "first-sold", true);
  await sell(post.db, hall, [one!]);
  // As the till records a piece that counts as sold twice; its owner is settled later.
  await post.db.$executeRaw`ALTER TABLE receipt_line DISABLE TRIGGER USER`;
  await post.db
    .$executeRaw`UPDATE receipt_line SET suspended = true WHERE item_id = ${one!.id}::uuid`;
  await post.look();
  expect(await post.rows()).toEqual([]);
  await post.db
    .$executeRaw`UPDATE receipt_line SET suspended = false WHERE item_id = ${one!.id}::uuid`;
  await post.db.$executeRaw`ALTER TABLE receipt_line ENABLE TRIGGER USER`;
  await post.look();
  expect(post.arrived()).toEqual([hall.chair.email]);
});

async function pickedTime(startsAt: string) {
  const id = v7();
  const time = { id, saleId: hall.sale.id, startsAt: new Date(startsAt), minutes: 30, places: 2 };
  await post.db.checkInTime.create({ data: { ...time, byId: hall.chair.id } });
  const choice = { saleId: hall.sale.id, memberId: hall.weaver.id, timeId: id };
  await post.db.checkInChoice.create({ data: choice });
  return time;
}

test("the morning before a check-in time its member is told, once, and anew when it moves", async () => {
  const { id } = await pickedTime("2026-11-26T15:00:00Z");
  post.at("2026-11-25T13:59:00Z");
  await post.look();
  expect(post.arrived()).toEqual([]);
  post.at("2026-11-25T14:00:00Z");
  await post.look();
  await post.look();
  expect(post.arrived()).toEqual([hall.weaver.email]);
  const { text } = post.server.letters[0]!;
  expect(text).toMatch(/Thursday, November 26, 2026, between 9:00\sAM and 9:30\sAM/);
  expect(text).toContain("Mill hall");
  await post.db.checkInTime.update({
    where: { id },
    data: { startsAt: new Date("2026-11-26T16:00:00Z") },
  });
  await post.look();
  expect(post.server.letters).toHaveLength(2);
});

test("a time given up, or begun, is not told of", async () => {
  await pickedTime("2026-11-26T15:00:00Z");
  // Written down by night.
  post.at("2026-11-26T04:00:00Z");
  await post.look();
  expect(await post.rows()).toMatchObject([{ state: "waiting" }]);
  await post.db.checkInChoice.deleteMany();
  post.at("2026-11-26T14:00:00Z");
  await post.look();
  expect(await post.rows()).toMatchObject([{ state: "skipped" }]);
  await post.tidy();
  await pickedTime("2026-11-26T13:30:00Z");
  post.at("2026-11-26T04:00:00Z");
  await post.look();
  post.at("2026-11-26T14:00:00Z");
  await post.look();
  expect(post.arrived()).toEqual([]);
});

test("a statement is told of the morning after, unless the treasurer has mailed it", async () => {
  const { db } = post;
  await moveTo(db, hall.sale, "settling");
  await post.want(hall.chair.id, "statement-ready", false);
  await settleNow(db, hall);
  const waiting = await post.rows();
  const ready = waiting.filter(({ kind }) => kind === "statement-ready");
  const told = new Set(ready.map(({ memberId }) => memberId));
  expect(told.has(hall.weaver.id)).toBe(true);
  expect(told.has(hall.cashier.id)).toBe(true);
  expect(told.has(hall.chair.id)).toBe(false);
  expect(ready[0]!.nextAt.getTime()).toBeGreaterThan(Date.now());
  post.at(new Date());
  await post.look();
  expect(post.arrived()).toEqual([]);
  // One of them has no address when the treasurer mails, and gets one by the morning.
  await db.member.update({ where: { id: hall.cashier.id }, data: { email: null } });
  const settlementId = ready[0]!.subjectId;
  done(await mailStatements(deedOf(db, hall.treasurer), { settlementId, which: "new" }));
  await db.member.update({ where: { id: hall.cashier.id }, data: { email: hall.cashier.email } });
  post.at(new Date(ready[0]!.nextAt.getTime() + 1_000));
  await post.look();
  expect(post.arrived()).toEqual([hall.cashier.email]);
  const statement = await db.statement.findFirstOrThrow({ where: { memberId: hall.cashier.id } });
  expect(post.server.letters[0]!.text).toContain(`${site}/results/statements/${statement.id}/pdf`);
  expect(post.server.letters[0]!.text).toContain(`Your statement ${statement.number} `);
  const skipped = (await post.rows()).find(({ memberId }) => memberId === hall.weaver.id);
  expect(skipped).toMatchObject({
    state: "skipped",
    lastError: "The statement itself was sent by e-mail",
  });
});

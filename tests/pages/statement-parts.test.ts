import { afterAll, beforeAll, expect, test } from "vitest";
import { yearToDateOf } from "../../src/database/statements.ts";
import type { Policy } from "../../src/rules/policy/policy.ts";
import { firstPolicy } from "../../src/rules/policy/policy.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import {
  buildSettling,
  closeTill,
  giveBack,
  reopenTill,
  settleNow,
} from "../support/build-settlement.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let treasurer: Client;
let weaver: Client;

const policy: Policy = {
  ...firstPolicy(20_000),
  fees: { entry: 500, firstEntry: null, late: 0, lateFor: "member", missedShift: 0 },
  payout: { minimum: 10_000, tenders: [{ method: "transfer", upTo: null }] },
};

beforeAll(async () => {
  base = await startApp();
  hall = await buildSettling(base.db);
  const by = { saleId: hall.sale.id, byId: hall.treasurer.id };
  await base.db.salePolicy.create({
    data: { ...by, version: 2, policy: policy as object, reason: "Voted" },
  });
  const reason = "Priced too low at the desk";
  await base.db.adjustment.create({
    data: { ...by, memberId: hall.weaver.id, amount: 150n, reason },
  });
  await closeTill(base.db, hall);
  await settleNow(base.db, hall);
  treasurer = await signedIn(base, hall.treasurer);
  weaver = await signedIn(base, hall.weaver);
});
afterAll(() => base.close());

const read = (html: string) => html.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");
const statementOf = () =>
  base.db.statement.findFirstOrThrow({
    where: { memberId: hall.weaver.id },
    orderBy: { number: "desc" },
  });
const year = () =>
  Number(new Date().toLocaleDateString("en-US", { timeZone: "America/Chicago", year: "numeric" }));

/** 84.98 sold, 17.00 for the guild, 5.00 entry fee, 1.50 added: 64.48, less than the 100.00 paid. */
const parts = [
  "Guild share -$17.00",
  "Entry fee -$5.00",
  "Adjustment: Priced too low at the desk $1.50",
  "Held $64.48",
  "Less than the guild's smallest payment, so it is held",
];

test("the treasurer's page, the member's page and the paper tell the same steps", async () => {
  const { id } = await statementOf();
  const page = await treasurer.visit(`/books/statements/${id}`).expect(200);
  const own = await weaver.visit(`/results/${hall.sale.id}`).expect(200);
  const pdf = await weaver.visit(`/results/statements/${id}/pdf`).expect(200);
  const paper = await wordsOf((await pagesOf(new Uint8Array(pdf.body)))[0]!);
  const texts = [read(page.text), read(own.text), paper].map((one) =>
    one.replaceAll("&#x27;", "'"),
  );
  for (const text of texts) {
    for (const part of parts) expect(text).toContain(part);
    expect(text).toContain("20 %: the rate for everyone");
    expect(text).toContain(
      `Your statements of ${year()} so far, this one included: sold for $84.98`,
    );
  }
  expect(page.text).not.toContain("Record the payout");
  const { settlementId } = await statementOf();
  const all = read((await treasurer.visit(`/books/settlements/${settlementId}`)).text);
  expect(all).toMatch(/\$84\.98 \$17\.00 \$3\.50 \$64\.48 Held/);
  const open = await treasurer.get(`/api/settlements/${settlementId}?paid=open`).expect(200);
  expect(open.body.items).toEqual([]);
  const list = read((await weaver.visit("/results").expect(200)).text);
  expect(list).toMatch(/\(PDF\) , \$64\.48 Held/);
  expect(list).toMatch(/Yours and not paid yet \$64\.48/);
});

test("the API tells every figure, and a stranger's statement is not there", async () => {
  const { id } = await statementOf();
  const { body } = await weaver.get(`/api/statements/${id}`).expect(200);
  expect(body).toMatchObject({
    ...{ gross: 8_498, guildShare: 1_700, cardFee: 0, fees: 500, losses: 0, adjustments: 150 },
    ...{ net: 6_448, carried: 0, due: 0, payMethod: null },
    yearToDate: { year: year(), gross: 8_498, net: 6_448 },
    items: [
      { kind: "entry", words: "Entry fee", count: 1, amount: -500 },
      { kind: "adjustment", amount: 150 },
    ],
  });
  expect(body.lines[0].ground).toBe("20 %: the rate for everyone");
  const other = await signedIn(base, hall.other);
  await other.get(`/api/statements/${id}`).expect(404);
});

test("the next statement carries what was held, and both add up to what is owed", async () => {
  await reopenTill(base.db, hall);
  await giveBack(base.db, hall, hall.receipts.first);
  await closeTill(base.db, hall);
  await settleNow(base.db, hall);
  const { id, net, carried } = await statementOf();
  expect([net, carried]).toEqual([-3_600n, 6_448n]);
  const words = read((await treasurer.visit(`/books/statements/${id}`)).text);
  expect(words).toContain("From the statement before $64.48");
  expect(words).toContain("Held $28.48");
  const { body } = await weaver.get("/api/me/results").expect(200);
  expect(body.owed).toBe(2_848);
  expect(read((await weaver.visit(`/results/${hall.sale.id}`)).text)).toContain("Held $28.48");
});

test("a year is the guild's own: a settlement on its New Year's Eve counts in the old year", async () => {
  const at = new Date("2020-01-01T03:00:00Z");
  const by = { saleId: hall.sale.id, byId: hall.treasurer.id };
  const figures = { gross: 1_000n, guildShare: 200n, net: 800n };
  const { id } = await base.db.settlement.create({
    data: { ...by, ...figures, number: 90, fingerprint: "f", at },
  });
  const { heading } = await statementOf();
  await base.db.statement.create({
    data: {
      ...{ settlementId: id, number: 90, memberId: hall.weaver.id, due: 800n },
      ...{ ...figures, heading: heading as object },
    },
  });
  const of = (wanted: number) => yearToDateOf(base.db, [hall.weaver.id, hall.chair.id], wanted);
  expect(await of(2019)).toEqual(new Map([[hall.weaver.id, { gross: 1_000, net: 800 }]]));
  expect(await of(2020)).toEqual(new Map());
  const now = (await of(year())).get(hall.weaver.id);
  expect(now).toEqual({ gross: 3_998, net: 2_848 });
});

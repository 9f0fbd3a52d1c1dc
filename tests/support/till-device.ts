import type pg from "pg";
import supertest from "supertest";
import { v7 } from "uuid";
import { hashPin } from "../../src/actions/set-pin.ts";
import { hashToken, randomToken } from "../../src/plugins/session/tokens.ts";
import { drawer, member } from "../../src/rules/ledger.ts";
import type { TestApp } from "./app.ts";
import type { BuiltPiece, buildHall } from "./build-till.ts";

export type Hall = Awaited<ReturnType<typeof buildHall>>;

/** The device of a till, straight into the table: tests of the enrolment go through its code. */
export async function deviceOf({ app, db }: TestApp, hall: Hall, till: { id: string }) {
  const token = randomToken();
  await db.tillDevice.create({
    data: {
      tillId: till.id,
      name: "Grey laptop",
      tokenHash: hashToken(token),
      enrolledById: hall.chair.id,
    },
  });
  return tillClient(app, `thrumbook-till=${token}`);
}

/** Calls as the page on the device does. */
export const tillClient = (app: TestApp["app"], cookie: string) => ({
  cookie,
  get: (path: string, headers: Record<string, string> = {}) =>
    supertest(app.server)
      .get(path)
      .set({ cookie, ...headers }),
  post: (path: string, body: object, headers: Record<string, string> = {}) =>
    supertest(app.server)
      .post(path)
      .set({ cookie, ...headers })
      .send(body),
});

/** Lets a member take over tills. */
export const givePin = async ({ db }: TestApp, { id }: { id: string }, pin = "4071") =>
  db.member.update({ where: { id }, data: { pinHash: await hashPin(pin) } });

/** Sells one piece for cash without tax, on a connection that may hold the transaction open. */
export async function sellOne(
  client: pg.Client,
  hall: Hall,
  till: { id: string; sessionId: string },
  piece: BuiltPiece,
): Promise<void> {
  const amounts = { subtotal: piece.price, tax: 0, total: piece.price };
  const line = {
    ...{ id: v7(), position: 1, kind: "item", itemId: piece.id, memberId: hall.weaver.id },
    ...{ tag: piece.tag, description: "Scarf", quantity: 1, unitPrice: piece.price, discount: 0 },
    ...{ amount: piece.price, tax: 0, taxInside: 0, taxKind: "", donated: false },
    ...{ suspended: false, priceReason: "" },
  };
  const receipt = {
    ...{ id: v7(), saleId: hall.sale.id, tillId: till.id, tillSessionId: till.sessionId },
    ...{ kind: "sale", ...amounts, cashGiven: piece.price, change: 0, fingerprint: "f" },
    ...{ reason: "", cashierId: hall.cashier.id, requestId: "test", description: "A receipt" },
    ...{ entryId: v7(), lines: [line], taxes: [] },
    tenders: [{ kind: "cash", amount: piece.price, reference: "" }],
    postings: [
      { account: drawer(till.id), amount: piece.price },
      { account: member(hall.weaver.id), amount: -piece.price },
    ],
  };
  await client.query("SELECT record_receipt($1::jsonb)", [JSON.stringify(receipt)]);
}

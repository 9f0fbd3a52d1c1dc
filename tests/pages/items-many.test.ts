import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Client, TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { errorLinks } from "../support/html.ts";

let base: TestApp;
let member: Member;
let own: Client;
let sale: { id: string };

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
});
afterAll(() => base.close());

const count = () => base.db.item.count({ where: { memberId: member.id } });

describe("several at once", () => {
  const many = (more: object = {}) => ({
    sale: sale.id,
    ...{ kind: "towel", description: "Huck towel", price: "28.00", quantity: "1" },
    ...{ "fibres.0.fibre": "wool", "fibres.0.percent": "70" },
    ...{ "fibres.2.fibre": "silk", "fibres.2.percent": "30 %", agreementVersion: "1" },
    "rows.0.colours": "Indigo",
    "rows.3.colours": "Madder",
    "rows.3.price": "30.00",
    "rows.3.quantity": "2",
    ...more,
  });

  test("empty rows are left out and each filled one gets its tag", async () => {
    const before = await count();
    const answer = await own.submit("/items/many", many());
    expect(answer.status).toBe(303);
    expect(await count()).toBe(before + 2);
    const last = await base.db.item.findFirstOrThrow({
      where: { memberId: member.id },
      orderBy: { number: "desc" },
    });
    expect(last).toMatchObject({ description: "Huck towel", price: 3_000n, quantity: 2 });
  });

  test.each<[string, object, string[]]>([
    ["a wrong price in one row", { "rows.3.price": "x" }, ["rows.3.price"]],
    ["a wrong price for all", { price: "1.00", "rows.3.price": "" }, ["price"]],
    ["no kind", { kind: "" }, ["kind"]],
    ["no price anywhere", { price: "", "rows.3.price": "" }, ["rows.0.price", "rows.3.price"]],
  ])("%s keeps every row", async (_words, more, fields) => {
    const before = await count();
    const answer = await own.submit("/items/many", many(more));
    expect(answer.status).toBe(400);
    expect(errorLinks(answer.text)).toEqual(fields);
    expect(answer.text).toContain('value="Indigo"');
    expect(await count()).toBe(before);
  });

  test("no row at all is said", async () => {
    const empty = many({ "rows.0.colours": "", "rows.3.colours": "" });
    const answer = await own.submit("/items/many", {
      ...empty,
      "rows.3.price": "",
      "rows.3.quantity": "",
    });
    expect(errorLinks(answer.text)).toEqual(["rows.0.colours"]);
  });
});

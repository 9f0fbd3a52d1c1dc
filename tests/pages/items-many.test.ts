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

  test("more rows come without a script, with everything that was typed", async () => {
    const page = await own.visit("/items/many");
    expect(page.text).toContain('id="f-rows.19.quantity"');
    expect(page.text).not.toContain('id="f-rows.20.quantity"');
    expect(page.text.match(/<tr class="spare">/g)).toHaveLength(15);
    const before = await count();
    const more = await own.submit("/items/many", many({ go: "rows", rowCount: "20" }));
    expect(more.status).toBe(200);
    expect(await count()).toBe(before);
    expect(more.text).toContain('id="f-rows.39.quantity"');
    expect(more.text).toContain('name="rowCount" value="40"');
    expect(more.text).toContain('value="Indigo"');
    expect(more.text).not.toContain('class="spare"');
    const last = await own.submit("/items/many", many({ go: "rows", rowCount: "90" }));
    expect(last.text).toContain('id="f-rows.99.quantity"');
    expect(last.text).not.toContain('value="rows"');
  });

  test("a late row is entered with a size of its own, and a fault in it is named there", async () => {
    const late = many({ "rows.97.colours": "Rust", "rows.97.size": "20 x 30 cm" });
    const faulty = await own.submit("/items/many", { ...late, "rows.97.price": "x" });
    expect(errorLinks(faulty.text)).toEqual(["rows.97.price"]);
    expect(faulty.text).toMatch(/id="f-rows.97.price"[^>]*aria-invalid="true"/);
    expect((await own.submit("/items/many", late)).status).toBe(303);
    const last = await base.db.item.findFirstOrThrow({
      where: { memberId: member.id },
      orderBy: { number: "desc" },
    });
    expect(last).toMatchObject({ colours: "Rust", size: "20 x 30 cm", price: 2_800n });
  });
});

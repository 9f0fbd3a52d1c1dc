import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../../support/app.ts";
import { buildMember } from "../../support/build.ts";
import { buildHall, buildPieces } from "../../support/build-till.ts";
import { linksIn } from "../../support/html.ts";
import { pagesOf, wordsOf } from "../../support/pdf.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildHall>>;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 1);
  await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 4_500 }, { price: 1_900 }]);
  await base.db.item.updateMany({ where: { price: 1_900 }, data: { withdrawnAt: new Date() } });
});
afterAll(() => base.close());

const words = async (answer: ReturnType<Client["visit"]>) => {
  const { body, status, headers } = await answer.buffer(true);
  expect([status, headers["content-type"]]).toEqual([200, "application/pdf"]);
  return (await Promise.all((await pagesOf(body)).map(wordsOf))).join(" ");
};
const file = (part = "") => `/sales/${hall.sale.id}/items/stock-list.pdf${part}`;

test("a member prints their own list from My items, without what was withdrawn", async () => {
  const weaver = await signedIn(base, hall.weaver);
  const links = linksIn((await weaver.visit(`/items?sale=${hall.sale.id}`)).text);
  expect(links).toContain(file());
  for (const text of [
    await words(weaver.visit(file())),
    await words(weaver.get(`/api${file()}`)),
  ]) {
    expect(text).toContain(`Member ${hall.weaver.number} ${hall.weaver.name}`);
    expect(text).toContain("1 entry");
    expect(text).toContain("$45.00");
    expect(text).not.toContain("$19.00");
  }
});

test("the desk prints anybody's; for others another's list is not there", async () => {
  const desk = await signedIn(base, await buildMember(base.db, ["desk"]));
  const asked = `?member=${hall.weaver.number}`;
  const page = `/desk/members/${hall.weaver.number}?sale=${hall.sale.id}`;
  expect(linksIn((await desk.visit(page)).text)).toContain(file(asked));
  expect(await words(desk.visit(file(asked)))).toContain(hall.weaver.name);
  expect(await words(desk.get(`/api${file(asked)}`))).toContain(hall.weaver.name);
  const other = await signedIn(base, await buildMember(base.db));
  for (const wrong of [asked, "?member=9999", "?member=abc"]) {
    expect((await other.visit(file(wrong))).status).toBe(404);
    expect((await other.get(`/api${file(wrong)}`)).status).toBe(404);
  }
  expect((await desk.visit(file("?member=9999"))).status).toBe(404);
  expect((await other.visit(`/sales/${v7()}/items/stock-list.pdf`)).status).toBe(404);
  expect((await other.get(`/api/sales/${v7()}/items/stock-list.pdf`)).status).toBe(404);
});

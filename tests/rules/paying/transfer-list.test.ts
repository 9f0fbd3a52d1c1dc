import { parse } from "csv-parse/sync";
import { expect, test } from "vitest";
import { transferList } from "../../../src/rules/paying/transfer-list.ts";
import { orderTotal } from "../../../src/rules/paying/transfer-order.ts";
import { order, transfer } from "./transfer-support.ts";

test("a list of transfers has a head and one row each", () => {
  expect(transferList(order())).toBe(
    "Day,Name,Account,Bank,Amount,Currency,Message,Reference\r\n" +
      "2026-12-02,Zoë Weaver,FR14 2004 1010 0505 0001 3M02 606,,194.00,EUR," +
      '"Guild sale, statement 45",P1-0045\r\n' +
      "2026-12-02,Zoë Weaver,FR14 2004 1010 0505 0001 3M02 606,ABNANL2A,17.48,EUR," +
      '"Guild sale, statement 45",P1-0101\r\n',
  );
});

test("a name cannot become a formula, and the amounts add up to the total", () => {
  const given = order({
    currency: "USD",
    transfers: [
      transfer({ name: '=HYPERLINK("x")', account: "021000021 123", amount: 5 }),
      transfer({ name: "B", amount: 1995 }),
    ],
  });
  const rows: Record<string, string>[] = parse(transferList(given), { columns: true });
  expect(rows[0]).toMatchObject({ Name: '\'=HYPERLINK("x")', Account: "021000021 123" });
  expect(rows.map(({ Amount }) => Amount)).toEqual(["0.05", "19.95"]);
  expect(orderTotal(given)).toBe(2000);
});

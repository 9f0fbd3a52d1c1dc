import type { SoldRow } from "../../../src/rules/sold/sold-row.ts";

/** A piece at 45.00 that sold for that at a sale, settled at 20 %, after 90 minutes. */
export const row = (more: Partial<SoldRow> = {}): SoldRow => ({
  ...{ key: "a", where: "sale:1", whereName: "Autumn sale", day: "2026-11-27" },
  ...{ itemId: "i", tag: "10000132", description: "Twill scarf", price: 4_500 },
  ...{ kind: "scarf", kindName: "Scarf", fibre: "wool", colour: "green", band: 2, pace: "2h" },
  ...{ entered: 1, sold: 1, given: false, amount: 4_500, kept: 900, left: 3_600, open: 0 },
  ...{
    settled: true,
    soldAt: "2026-11-27T16:30:00.000Z",
    wait: 90,
    minutes: null,
    materials: null,
  },
  ...more,
});

export const unsold = (more: Partial<SoldRow> = {}): SoldRow =>
  row({
    ...{ sold: 0, amount: 0, kept: 0, left: 0, soldAt: null, wait: null, pace: "" },
    ...more,
  });

export const away = (more: Partial<SoldRow> = {}): SoldRow =>
  row({
    ...{ where: "outlet:Corner shop", whereName: "Corner shop", day: "2026-08-01", entered: 0 },
    ...{ soldAt: "2026-08-01", wait: null, pace: "", tag: "" },
    ...more,
  });

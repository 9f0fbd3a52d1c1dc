import type { CsvExport } from "./csv-export.ts";
import { goodsExports } from "./goods-exports.ts";
import { ledgerExports } from "./ledger-exports.ts";
import { payingExports } from "./paying-exports.ts";
import { tillExports } from "./till-exports.ts";

/** The tables of a sale that are given out as CSV, in the order in which they are offered. */
export const saleExports: readonly CsvExport[] = [
  ...tillExports,
  ...goodsExports,
  ...payingExports,
  ...ledgerExports,
];

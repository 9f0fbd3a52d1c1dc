import type { Reply } from "../../plugins/types.ts";
import type { PayoutMethod } from "../../rules/statement.ts";
import { methodWords } from "../books/statement-page.ts";

/** The places of paying, for the line of links above them. */
export const payingPlaces = (current: string) =>
  [
    { href: "/books/runs", label: "Paying runs" },
    { href: "/books/unclaimed", label: "What waits" },
    { href: "/books/paying", label: "Account and reminders" },
  ].map((link) => ({ ...link, current: link.href === current }));

/** The three ways of paying as choices of a form. */
export const methodChoices = Object.entries(methodWords).map(([value, label]) => ({
  value,
  label,
}));

export const isMethod = (text: unknown): text is PayoutMethod =>
  typeof text === "string" && Object.hasOwn(methodWords, text);

/** What a form sends for a group of boxes: nothing, one text or several. */
export const ticked = (value: unknown): unknown[] =>
  value === undefined ? [] : Array.isArray(value) ? value : [value];

/** "1 payment", "3 payments". */
export const paymentsText = (count: number): string =>
  count === 1 ? "1 payment" : `${count} payments`;

export const sendPdf = (reply: Reply, name: string, bytes: Uint8Array) =>
  reply
    .type("application/pdf")
    .header("content-disposition", `inline; filename="${name}"`)
    .send(Buffer.from(bytes));

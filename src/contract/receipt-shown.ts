import * as z from "zod";
import { lineKinds } from "../rules/line-kind.ts";
import { tenderKinds } from "../rules/tender.ts";

/** What the API answers about receipts and tags; amounts in whole smallest coins. */
const amount = z.number().int();

export const recordedShape = z.object({
  id: z.uuid(),
  name: z.string(),
  subtotal: amount,
  tax: amount,
  total: amount,
  cashGiven: amount,
  change: amount,
  rounding: amount,
  recorded: z.enum(["now", "before"]),
});

export const reversedShape = z.object({ id: z.uuid(), name: z.string(), back: amount });

const kind = z.enum(["sale", "return", "void"]);

export const receiptInListShape = z.object({
  id: z.uuid(),
  name: z.string(),
  tillId: z.uuid(),
  kind,
  total: amount,
  pieces: z.number().int(),
  cashier: z.string(),
  at: z.string(),
  calledOff: z.boolean(),
});

const other = z.object({ id: z.uuid(), name: z.string() });

export const receiptShownShape = z.object({
  id: z.uuid(),
  saleId: z.uuid(),
  tillId: z.uuid(),
  number: z.number().int(),
  name: z.string(),
  kind,
  reverses: other.nullable(),
  reversedBy: z.array(other.extend({ kind: z.enum(["return", "void"]) })),
  subtotal: amount,
  tax: amount,
  total: amount,
  cashGiven: amount,
  change: amount,
  reason: z.string(),
  cashier: z.string(),
  at: z.string(),
  lines: z.array(
    z.object({
      id: z.uuid(),
      position: z.number().int(),
      kind: z.enum(lineKinds),
      /** Null for what has no tag. */
      itemId: z.uuid().nullable(),
      tag: z.string(),
      description: z.string(),
      quantity: z.number().int(),
      unitPrice: amount,
      discount: amount,
      amount,
      tax: amount,
      /** The part of the tax that the price holds already. */
      taxInside: amount,
      donated: z.boolean(),
      /** Nobody's yet: the money waits until somebody knows whose the piece was. */
      suspended: z.boolean(),
      priceReason: z.string(),
      returned: z.number().int(),
    }),
  ),
  rounding: amount,
  exemption: z.string(),
  madeAt: z.string(),
  taxes: z.array(
    z.object({
      code: z.string(),
      name: z.string(),
      rate: z.number().int(),
      base: amount,
      tax: amount,
    }),
  ),
  tenders: z.array(
    z.object({ kind: z.enum([...tenderKinds, "exchange"]), amount, reference: z.string() }),
  ),
});

/** A tag as the till shows it. */
export const tillItemShape = z.object({
  itemId: z.uuid(),
  tag: z.string(),
  shownTag: z.string(),
  memberNumber: z.number().int(),
  description: z.string(),
  size: z.string(),
  price: amount,
  quantity: z.number().int(),
  onFloor: z.number().int(),
  donated: z.boolean(),
  state: z.enum(["on-floor", "sold", "not-checked-in", "withdrawn", "with-guild", "lost"]),
  sold: z
    .object({ till: z.number().int(), receipt: z.string(), at: z.string(), cashier: z.string() })
    .nullable(),
});

export type TillItemShown = z.infer<typeof tillItemShape>;
export type RecordedShown = z.infer<typeof recordedShape>;

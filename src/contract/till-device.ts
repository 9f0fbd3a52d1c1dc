import * as z from "zod";
import { taxShape } from "./tax.ts";

const amount = z.int();

/** An item as a till keeps it: enough to sell it without asking anybody. */
export const catalogueItem = z.object({
  id: z.uuid(),
  tag: z.string(),
  description: z.string(),
  size: z.string(),
  memberNumber: z.int(),
  price: amount,
  /** Pieces on the floor as the server knows it. */
  onFloor: z.int(),
  entered: z.int(),
  piecesInSet: z.int(),
  taxKind: z.string(),
  donated: z.boolean(),
  markdown: z.boolean(),
  state: z.enum(["on-floor", "sold", "not-checked-in", "withdrawn", "with-guild", "lost"]),
  /** "till 2, receipt 2-0017" and when, for what was sold last. */
  sold: z.object({ till: z.int(), receipt: z.string(), at: z.string() }).nullable(),
});

export type CatalogueItem = z.infer<typeof catalogueItem>;

export const guildGood = z.object({
  id: z.uuid(),
  name: z.string(),
  kind: z.enum(["goods", "donation"]),
  /** Null when the amount is typed each time. */
  price: amount.nullable(),
  taxKind: z.string(),
  position: z.int(),
});

export type GuildGoodShown = z.infer<typeof guildGood>;

/** Who may sell here: the till checks the PIN itself, so that taking over works off line. */
export const tillCashier = z.object({
  id: z.uuid(),
  name: z.string(),
  number: z.int(),
  /** "rounds$salt$key": PBKDF2 with SHA-256, salt and key in base64url. */
  pinHash: z.string(),
});

export type TillCashier = z.infer<typeof tillCashier>;

/** Everything about the sale and this till that is not an item. */
export const tillScene = z.object({
  till: z.object({ id: z.uuid(), number: z.int(), name: z.string() }),
  sale: z.object({
    id: z.uuid(),
    name: z.string(),
    stage: z.string(),
    tax: taxShape,
    cashStep: z.int(),
    cashFives: z.enum(["up", "down"]),
    markdownRate: z.int(),
    markdownFrom: z.string().nullable(),
    receiptFooter: z.string(),
  }),
  guild: z.object({
    name: z.string(),
    address: z.string(),
    currency: z.string(),
    locale: z.string(),
    timeZone: z.string(),
    tagLength: z.int(),
  }),
  session: z
    .object({ id: z.uuid(), float: amount, openedAt: z.string(), openedBy: z.string() })
    .nullable(),
  /** The highest receipt number that the server holds of this till. */
  lastNumber: z.int(),
  goods: z.array(guildGood),
  cashiers: z.array(tillCashier),
  /** Whether buyers may have their receipt by e-mail. */
  mail: z.boolean(),
});

export type TillSceneShown = z.infer<typeof tillScene>;

/** A part of the list: all of it without `after`, else what changed since. */
export const catalogueDelta = z.object({
  /** Give it back as `after`: nothing that changed later is missed. */
  cursor: z.string(),
  /** False when `items` is the whole list and replaces what the till had. */
  changesOnly: z.boolean(),
  items: z.array(catalogueItem),
  at: z.string(),
});

export type CatalogueDelta = z.infer<typeof catalogueDelta>;

/** What a till says of itself with every call, so that the chair sees who has not sent all. */
export const tillStatus = z.strictObject({
  unsent: z.int().min(0).max(100_000),
  lastNumber: z.int().min(0).max(999_999),
  /** What its clock shows as it asks, so that the server notices one that is wrong. */
  clock: z.iso.datetime().optional(),
});

export type TillStatus = z.infer<typeof tillStatus>;

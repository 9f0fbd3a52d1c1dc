import type { Minor } from "../money.ts";
import type { Policy } from "../policy/policy.ts";
import type { PayoutMethod } from "../statement.ts";

export const hindranceKinds = [
  "unsent",
  "open-till",
  "shifts",
  "member-class",
  "policy",
  "sold-twice",
  "suspense",
  "on-floor",
  "drawer",
  "lost-device",
  "pay-wish",
] as const;

/** Something that stands in the way of settling a sale, with the page that mends it. */
export interface Hindrance {
  kind: (typeof hindranceKinds)[number];
  /** While it stands the sale cannot be settled; the others had better be mended first. */
  must: boolean;
  count: number;
  /** What is in the way, with names and numbers. */
  words: string;
  action: { label: string; href: string };
}

/** What was counted in a sale, as far as it can stand in the way. */
export interface HindranceFacts {
  saleId: string;
  /** Selling is over, so that what is on the floor should not be there any more. */
  settling: boolean;
  /** Lines that are nobody's yet, those that count as sold twice left out. */
  suspense: { lines: number; amount: Minor };
  soldTwice: { lineId: string; tag: string; description: string }[];
  floor: { pieces: number; members: number };
  devices: { till: number; device: string; unsent: number; lost: boolean }[];
  openTills: { id: string; number: number }[];
  /** Drawers that did not come out even and that nobody has looked into; above zero is over. */
  drawers: { till: number; difference: Minor; note: string }[];
  /** Shifts that are neither ticked as worked nor as missed, and their members by number. */
  shifts: { count: number; members: number[] };
  wishes: { member: number; classCode: string | null; payMethod: PayoutMethod | null }[];
  policy: Policy;
}

export type Money = (amount: Minor) => string;

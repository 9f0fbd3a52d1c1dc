import type { ReceiptMailFact } from "../../contract/receipt-mail.ts";
import type { CatalogueItem, TillCashier, TillSceneShown } from "../../contract/till-device.ts";
import type { CashMoveFact, OtherTillsReceipt, ReceiptFact } from "../../contract/till-fact.ts";
import type { Minor } from "../../rules/money.ts";
import type { Basket } from "./sell/basket.ts";
import type { Unnumbered } from "./sell/sale-fact.ts";

/** The till's own list of goods, held in memory as a whole so that a scan never waits. */
export interface Goods {
  /** The piece as it stands after the server's list and this till's own receipts. */
  find(tag: string): CatalogueItem | undefined;
  /** How many tags are in the list; 0 before the first list has come. */
  size(): number;
  /** When the server last spoke of the list, as it was then or as unchanged since. */
  at(): Date | undefined;
  /** Calls back after each change with the tags that changed; returns what ends it. */
  onChange(heard: (tags: readonly string[]) => void): () => void;
}

/** Keeps what happened until the server has it. Nothing in here is dropped or gets too old. */
export interface Outbox {
  /**
   * Numbers receipts and stores them for good, together with the end of their basket: all of it
   * or nothing, and only what is returned may be shown as done. The halves of an exchange go in
   * together, the return first. Rejects with `ShelfRefused` when the device stores nothing.
   */
  record(receipts: readonly Unnumbered[]): Promise<ReceiptFact[]>;
  recordMove(move: CashMoveFact): Promise<void>;
  /** Behind its receipt; the address leaves this device for good with the server's answer. */
  recordMails(mails: readonly ReceiptMailFact[]): Promise<void>;
  /** Entries that the server has not answered. */
  unsent(): number;
  /** Undefined while sales can be stored, else the words that say why none may begin. */
  refusal(): string | undefined;
  /** False when the browser may clear what is kept, undefined when it does not say. */
  lasting(): boolean | undefined;
  /** Everything unsent as a file, for when the way to the server stays shut. */
  toFile(): Promise<{ name: string; text: string }>;
}

export interface HeldBasket {
  id: string;
  /** What the cashier called it, such as "blue coat". */
  name: string;
  heldAt: string;
  total: Minor;
  basket: Basket;
}

export interface Baskets {
  /** What was on the counter when the page was last left. */
  current(): Promise<Basket | undefined>;
  /** After each change; quick, and a basket that is recorded already is not kept again. */
  keep(basket: Basket): Promise<void>;
  /** Puts the basket aside and leaves none on the counter. */
  hold(basket: Basket, name: string, total: Minor): Promise<void>;
  held(): Promise<HeldBasket[]>;
  /** Takes a held basket to the counter; undefined when it is not held any more. */
  resume(id: string): Promise<Basket | undefined>;
}

/** The receipts that this till made, sent or not. */
export interface Past {
  newest(most: number): Promise<ReceiptFact[]>;
  find(id: string): Promise<ReceiptFact | undefined>;
  numbered(number: number): Promise<ReceiptFact | undefined>;
  /** Receipts with this tag on one of their lines, newest first. */
  withTag(tag: string): Promise<ReceiptFact[]>;
  /** What took the receipt back so far: its void, or its returns in their order. */
  takenBack(id: string): Promise<ReceiptFact[]>;
}

/** Who sells here now. */
export interface Seat {
  cashier: Pick<TillCashier, "id" | "name" | "number">;
  /** Locks the till; the basket stays and the next cashier goes on with it. */
  leave(): void;
}

export interface TillState {
  online: boolean;
  lastContact?: Date;
  /** Milliseconds by which this device's clock is ahead of the server's, as last heard. */
  clockAhead?: number;
  unsent: number;
  /** The server did not take the oldest entry, or does not know this device: what it said. */
  trouble?: string;
  /** The server does not know this device: it needs a code of the chair again. */
  shutOut?: boolean;
}

/** What the server says when it is asked for a receipt; "silent" is no answer at all. */
export type ReceiptAnswer =
  | { kind: "found"; receipt: OtherTillsReceipt }
  | { kind: "none" }
  | { kind: "refused"; words: string }
  | { kind: "silent" };

export type AskReceipt = (name: string) => Promise<ReceiptAnswer>;

/** What only the server can tell a till; practice has none. */
export interface Line {
  /**
   * Brings the list up to date within 1.2 seconds and tells which of the tags another till sold
   * meanwhile; undefined when the server did not answer, and then the sale goes on.
   */
  checkTags(tags: readonly string[]): Promise<CatalogueItem[] | undefined>;
  askReceipt: AskReceipt;
}

/** Everything that the selling screen stands upon. */
export interface TillParts {
  shelfName: string;
  practice: boolean;
  scene(): TillSceneShown;
  onScene(heard: () => void): () => void;
  goods: Goods;
  outbox: Outbox;
  baskets: Baskets;
  past: Past;
  /** The last who sat down; read it anew each time, since another cashier may take over. */
  readonly seat: Seat;
  /** While nobody sits here, keys and scans belong to the PIN; the boot hides `#selling` itself. */
  locked(): boolean;
  /** After somebody sat down again: `startSelling` runs once per page. */
  onSeat(heard: () => void): () => void;
  readonly state: TillState;
  onState(heard: (state: TillState) => void): () => void;
  line?: Line;
}

import { v7 } from "uuid";
import type { ReceiptFact } from "../../../contract/till-fact.ts";
import { emptyBasket } from "./basket.ts";
import { checkFloor } from "./check-floor.ts";
import { returnedBefore } from "./coming-back.ts";
import { part } from "./dom.ts";
import { exchangeFacts } from "./exchange-facts.ts";
import { notReady } from "./payment.ts";
import { type Seller, saleFact, type Unnumbered } from "./sale-fact.ts";
import { play } from "./sounds.ts";
import type { Till } from "./till.ts";

/** Who sells in which opening of the drawer; a till that is not open sells nothing. */
export function sellerAt({ parts, scene }: Till): Seller {
  if (!scene.session) throw new Error("A receipt cannot be made while the till is closed");
  return { sessionId: scene.session.id, cashierId: parts.seat.cashier.id };
}

/** Finishes the sale: it is stored for good before any change is shown. */
export async function finish(till: Till): Promise<void> {
  const { storing, basket } = till.shown;
  if (storing || notReady(basket, till.scene, till.due())) return;
  till.change({ storing: true, undo: undefined, paying: undefined });
  const ready = await checkFloor(till);
  // What was taken off or put on meanwhile changes what is due: it has to be looked at again.
  if (!ready || till.shown.basket !== basket) {
    till.change({ storing: false });
    return;
  }
  await store(till, () => factsOf(till));
}

/**
 * Stores receipts and shows them as done, or says why nothing was sold. Used for sales, returns
 * and voids alike, so that none of them can show money that is not on record.
 */
export async function store(
  till: Till,
  facts: () => Unnumbered[] | Promise<Unnumbered[]>,
): Promise<void> {
  till.change({ storing: true });
  try {
    const done = await till.parts.outbox.record(await facts());
    const sold = done.some(({ kind }) => kind === "sale");
    const basket = sold ? emptyBasket(v7(), new Date()) : till.shown.basket;
    till.change({
      place: "done",
      done,
      mailed: "no",
      basket,
      storing: false,
      signal: undefined,
      undo: undefined,
    });
    play("paid", till.device.volume);
    part("next").focus();
  } catch (error) {
    till.change({ storing: false, signal: { kind: "trouble", words: refusalWords(till, error) } });
  }
}

/** What the device said, when it is one of the refusals that are meant for people. */
function refusalWords(till: Till, error: unknown): string {
  const why = till.parts.outbox.refusal() ?? (error instanceof Error ? error.message : "");
  return `Nothing was recorded. Take no money and give none back. ${why}`;
}

async function factsOf(till: Till): Promise<Unnumbered[]> {
  const { basket } = till.shown;
  const [seller, now] = [sellerAt(till), new Date()];
  const { back } = basket;
  if (!back) return [saleFact(basket, seller, till.scene, now, null)];
  const { sale, returns, goesTo, reason } = back;
  const before = returnedBefore(sale.id, await till.parts.past.takenBack(sale.id), back.before);
  const wanted = { sale, before, returns, goesTo, reason };
  const both = exchangeFacts({ ...basket, back }, wanted, seller, till.scene, now, till.newId);
  if (!both.ok) throw new Error(both.problem.detail);
  return both.value;
}

/** The money that the done screen is about: what goes into the buyer's hand. */
export function handedBack(done: readonly ReceiptFact[]): number {
  const change = done.reduce((sum, fact) => sum + fact.change, 0);
  const back = done
    .filter(({ kind }) => kind !== "sale")
    .flatMap(({ tenders }) => tenders.filter(({ kind }) => kind === "cash"));
  return back.reduce((sum, { amount }) => sum - amount, change);
}

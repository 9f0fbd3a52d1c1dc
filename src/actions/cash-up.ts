import type { CashUpInput } from "../contract/till.ts";
import { balanceOf } from "../database/balance.ts";
import type { Transaction } from "../database/client.ts";
import { countDeed, type DrawerCount, standingCountOf } from "../database/drawer-counts.ts";
import { type Deed, perform, type Work } from "../database/perform.ts";
import { drawer } from "../rules/ledger.ts";
import { sameName } from "../rules/person-name.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { type CashedUp, closeSession } from "./close-session.ts";
import { checkCounted, keptCounts } from "./counted-cash.ts";
import { unsentOnDevice } from "./device-sent.ts";
import { holdOpenSession, type OpenSession } from "./write-cash-move.ts";

export type { CashedUp } from "./close-session.ts";

type Given = CashUpInput & { tillId: string };

/** A first count that differs leaves the till open, so that it can be counted once more. */
export interface Counted extends CashedUp {
  closed: boolean;
}

/**
 * Closes a till: what the books expect in the drawer against what two people counted. The count
 * comes first and the expected figure after it. Sales stay as they are; a difference is posted.
 */
export const cashUp = (deed: Deed, input: Given): Promise<Result<CashedUp>> =>
  perform(
    deed,
    "cash-up",
    input,
    atOpenTill(deed, input, async (tx, session, given) => {
      const value = await closeSession(tx, session, { ...given, byId: deed.actor.id });
      return ok({ value, subjectId: input.tillId, detail: value });
    }),
  );

/**
 * Takes the count of a drawer. One that meets the books closes the till, and so does a second one.
 * A first one that differs is kept, and both figures are told: a note or a roll may be misread.
 */
export const countDrawer = (deed: Deed, input: Given): Promise<Result<Counted>> =>
  perform<Counted>(
    deed,
    countDeed,
    input,
    atOpenTill<Counted>(deed, input, async (tx, session, given) => {
      const first = await standingCountOf(tx, session.id, session.tillId);
      const expected = await balanceOf(tx, drawer(session.tillId));
      const { counted, counts, witness, note } = given;
      if (first || counted === expected) {
        const done = await closeSession(tx, session, { ...given, byId: deed.actor.id });
        const { tillId } = session;
        return ok({ value: { ...done, closed: true }, subjectId: tillId, detail: done });
      }
      const value = { sessionId: session.id, expected, counted, difference: counted - expected };
      const by = { byId: deed.actor.id, by: deed.actor.name };
      const kept: DrawerCount = { counted, counts, expected, witness, note, ...by };
      return ok({ value: { ...value, closed: false }, subjectId: session.id, detail: kept });
    }),
  );

/** Closes a till with the count that was kept, which its two people stand by. */
export const closeAsCounted = (
  deed: Deed,
  { tillId }: { tillId: string },
): Promise<Result<CashedUp>> =>
  perform(deed, "cash-up", { tillId }, async (tx) => {
    const session = await holdOpenSession(tx, tillId);
    if (!session) return closedAlready();
    const unsent = await unsentOnDevice(tx, tillId);
    if (unsent) return { ok: false, problem: unsent };
    const first = await standingCountOf(tx, session.id, session.tillId);
    if (!first)
      return refuse(
        "changed-meanwhile",
        "The drawer has changed since it was counted. The till stays open: count it again.",
      );
    const value = await closeSession(tx, session, first);
    return ok({ value, subjectId: tillId, detail: value });
  });

interface FullCount extends Omit<CashUpInput, "counts"> {
  counts: ReturnType<typeof keptCounts>;
}

type CountWork<T> = (
  tx: Transaction,
  session: OpenSession,
  given: FullCount,
) => ReturnType<Work<T>>;

/** What every count of a drawer has to be: two people's, of an open till, all of it sent. */
const atOpenTill =
  <T>(deed: Deed, input: Given, work: CountWork<T>): Work<T> =>
  async (tx) => {
    const { tillId, counted, counts = [], witness, note } = input;
    if (sameName(witness, deed.actor.name))
      return refuseField("witness", "Two people count. Give the name of the other person.");
    const session = await holdOpenSession(tx, tillId);
    if (!session) return closedAlready();
    const unsent = await unsentOnDevice(tx, tillId);
    if (unsent) return { ok: false, problem: unsent };
    const miscounted = await checkCounted(tx, counts, { field: "counted", amount: counted });
    if (miscounted) return miscounted;
    return work(tx, session, { counted, counts: keptCounts(counts), witness, note });
  };

const closedAlready = () =>
  refuse("till-closed", "It is cashed up already or was never opened. Nothing changed.");

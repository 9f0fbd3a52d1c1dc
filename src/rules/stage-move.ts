import { ok, type Result, refuse, refuseField } from "./problem.ts";
import { nextStage, previousStage, type Stage } from "./sale-stage.ts";
import { stageWords } from "./stage-words.ts";

/** What has been recorded for a sale, as far as its stage depends on it: plain counts. */
export interface SaleFacts {
  /** Items entered, withdrawn ones left out. */
  items: number;
  tills: number;
  /** Tills opened and not yet cashed up. */
  openTills: number;
  /** Receipts of every kind, voids included. */
  receipts: number;
  settlements: number;
  /** Receipt lines that stand on no statement yet. */
  unsettledLines: number;
  /** Statements with something to pay and no payout that still counts. */
  unpaidStatements: number;
}

export interface Move {
  from: Stage;
  to: Stage;
  /** Why; wanted only for a step back. */
  reason: string;
}

/**
 * Judges one step of a sale (common practice, no source). Forward goes one stage at a time; back
 * goes one stage while nothing depends on it, with a reason. Refuses with `invalid-input` for a
 * step that does not exist and `still-open` when something has to be finished first.
 */
export function judgeMove(move: Move, facts: SaleFacts): Result<"forward" | "back"> {
  const { from, to, reason } = move;
  if (to === nextStage(from)) return orHindered(forwardHindrance(to, facts), "forward");
  if (to !== previousStage(from)) return noSuchStep(from);
  if (reason.trim() === "") return refuseField("reason", "Say why the sale goes back a step.");
  return orHindered(backHindrance(to, facts), "back");
}

function orHindered<T>(hindrance: string | undefined, direction: T): Result<T> {
  return hindrance ? refuse("still-open", hindrance) : ok(direction);
}

function noSuchStep(from: Stage): Result<never> {
  const next = nextStage(from);
  const way = next ? `the next step is ${stageWords[next].label.toLowerCase()}` : "it ends here";
  return refuseField(
    "to",
    `The sale stands at ${stageWords[from].label.toLowerCase()}; ${way}. Stages are taken one at a time.`,
  );
}

function forwardHindrance(to: Stage, facts: SaleFacts): string | undefined {
  if (to === "selling" && facts.tills === 0)
    return "This sale has no till yet. Add one, then start selling.";
  if ((to === "settling" || to === "closed") && facts.openTills > 0)
    return `${counted(facts.openTills, "till is", "tills are")} not cashed up yet. Cash up first, then ${to === "closed" ? "close" : "settle"}.`;
  if (to === "closed" && facts.unsettledLines > 0)
    return `${counted(facts.unsettledLines, "line", "lines")} sold or returned are on no statement yet. Settle them, then close.`;
  if (to === "closed" && facts.unpaidStatements > 0)
    return `${counted(facts.unpaidStatements, "statement is", "statements are")} not paid yet. Record the payouts, then close.`;
  return undefined;
}

function backHindrance(to: Stage, facts: SaleFacts): string | undefined {
  if (to === "planning" && facts.items > 0)
    return `${counted(facts.items, "item is", "items are")} entered already. Close entries instead, or change the deadline.`;
  if (to === "entries-closed" && facts.receipts > 0)
    return "Receipts have been written, so selling cannot be undone. Correct single receipts by a void or a return.";
  if (to === "entries-closed" && facts.openTills > 0)
    return `${counted(facts.openTills, "till is", "tills are")} open. Cash up first.`;
  if (to === "selling" && facts.settlements > 0)
    return "This sale has a settlement, which stays as it is. Later returns go into a further settlement.";
  return undefined;
}

const counted = (count: number, one: string, many: string): string =>
  `${count} ${count === 1 ? one : many}`;

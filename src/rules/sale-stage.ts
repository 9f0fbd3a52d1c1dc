import { hasAny, type Role } from "./roles.ts";

/** The stages of a sale, in the order the chair moves through them. */
export const stages = [
  "planning",
  "entries-open",
  "entries-closed",
  "selling",
  "settling",
  "closed",
] as const;

export type Stage = (typeof stages)[number];

/** When each deed may be done (common practice of guild sales, no source). */
const stagesOf = {
  "enter-item": ["entries-open"],
  "enter-item-late": ["entries-closed", "selling"],
  // Tills keep their list off line, so what a price may do is settled before they sell.
  "allow-markdown": ["entries-open", "entries-closed"],
  "withdraw-item": ["entries-open", "entries-closed", "selling"],
  // The chair says when the desk takes pieces in, and members pick a time until the sale is on.
  "plan-check-in": ["planning", "entries-open", "entries-closed", "selling"],
  "pick-check-in": ["entries-open", "entries-closed", "selling"],
  "check-in": ["entries-closed", "selling"],
  "give-back": ["entries-closed", "selling"],
  sell: ["selling"],
  refund: ["selling", "settling"],
  "pick-up": ["settling"],
  // While tills sell, a piece that nobody finds may hang on the next rack.
  "account-for": ["settling"],
  settle: ["settling"],
  "pay-out": ["settling", "closed"],
  adjust: ["selling", "settling"],
  // Work is planned and ticked, and terms are noted, until the last settlement stands.
  "keep-shifts": ["planning", "entries-open", "entries-closed", "selling", "settling"],
  "set-terms": ["planning", "entries-open", "entries-closed", "selling", "settling"],
  "edit-sale": ["planning", "entries-open", "entries-closed", "selling", "settling"],
  "edit-sale-rates": ["planning", "entries-open", "entries-closed"],
  "edit-policy": ["planning", "entries-open", "entries-closed", "selling", "settling"],
} as const satisfies Record<string, readonly Stage[]>;

export type Deed = keyof typeof stagesOf;

export const allows = (stage: Stage, deed: Deed): boolean =>
  (stagesOf[deed] as readonly Stage[]).includes(stage);

/** Members enter while entries are open; the desk and the chair help latecomers until selling ends. */
export const mayEnterItem = (stage: Stage, roles: readonly Role[]): boolean =>
  allows(stage, "enter-item") ||
  (hasAny(roles, ["desk", "chair"]) && allows(stage, "enter-item-late"));

/** Once the deadline has passed, entries are closed for members even before the chair moves on. */
export const stageForEntries = (stage: Stage, deadlinePassed: boolean): Stage =>
  stage === "entries-open" && deadlinePassed ? "entries-closed" : stage;

export const nextStage = (stage: Stage): Stage | undefined => stages[stages.indexOf(stage) + 1];

export const previousStage = (stage: Stage): Stage | undefined => stages[stages.indexOf(stage) - 1];

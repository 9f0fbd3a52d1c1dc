import type { ProblemCode } from "./problem.ts";

/** Where the pieces of one item are, in whole pieces. */
export interface PiecesByPlace {
  withdrawn: boolean;
  withMember: number;
  onFloor: number;
  withBuyer: number;
  withGuild: number;
  lost: number;
}

export type FloorState =
  | "on-floor"
  | "sold"
  | "not-checked-in"
  | "withdrawn"
  | "with-guild"
  | "lost";

/** What a till has to know about an item: can it be sold, and if not, why. */
export function floorState(item: PiecesByPlace): FloorState {
  if (item.onFloor > 0) return "on-floor";
  if (item.withBuyer > 0) return "sold";
  if (item.withdrawn) return "withdrawn";
  if (item.withMember > 0) return "not-checked-in";
  return item.withGuild > 0 ? "with-guild" : "lost";
}

/** Why an item with nothing on the floor cannot be sold, except when it is sold already. */
export const offFloorWords: Record<Exclude<FloorState, "on-floor" | "sold">, string> = {
  "not-checked-in": "It has not been checked in. Ask the desk to check it in, then scan it again.",
  withdrawn: "Its member has withdrawn it. Ask the desk what to do with the piece.",
  "with-guild": "It belongs to the guild by now. Ask the desk what to do with the piece.",
  lost: "It is noted as lost. Ask the desk to note that it was found, then scan it again.",
};

export const floorProblem = (state: FloorState): ProblemCode =>
  state === "on-floor" || state === "sold" ? "already-sold" : "not-on-floor";

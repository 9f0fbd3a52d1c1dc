/** How many pieces of an item are in each place. */
export interface Pieces {
  entered: number;
  withMember: number;
  onFloor: number;
  withBuyer: number;
  withGuild: number;
  lost: number;
}

/** What has happened to an item beside its present places. */
export interface ItemHistory {
  withdrawn: boolean;
  /** The desk's last decision was to turn it away. */
  turnedAway: boolean;
  /** Pieces have gone from the floor back to the member. */
  pickedUp: boolean;
}

export const itemStates = [
  "entered",
  "turned-away",
  "on-floor",
  "sold",
  "with-guild",
  "lost",
  "home",
  "withdrawn",
] as const;

export type ItemState = (typeof itemStates)[number];

/**
 * The one word for an item. With pieces in several places, the place where something can still
 * happen comes first: a stack with one piece left on the floor is on the floor.
 */
export function itemState(pieces: Pieces, history: ItemHistory): ItemState {
  if (history.withdrawn) return "withdrawn";
  if (pieces.onFloor > 0) return "on-floor";
  if (pieces.withBuyer > 0) return "sold";
  if (pieces.withGuild > 0) return "with-guild";
  if (pieces.lost > 0) return "lost";
  if (history.pickedUp) return "home";
  return history.turnedAway ? "turned-away" : "entered";
}

/** Pieces that the desk can still take in. A withdrawn item has none. */
export const stillToCome = (pieces: Pieces, history: ItemHistory): number =>
  history.withdrawn ? 0 : pieces.withMember;

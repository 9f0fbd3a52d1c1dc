/** Where a piece can be; "outside" is before it was entered or after its entry was withdrawn. */
export const places = ["outside", "member", "floor", "buyer", "guild", "lost"] as const;

export type Place = (typeof places)[number];

/** Every way a quantity of an item may move, by name; anything else would create or lose pieces. */
export const moves = {
  entered: { from: "outside", to: "member" },
  unentered: { from: "member", to: "outside" },
  "checked-in": { from: "member", to: "floor" },
  sold: { from: "floor", to: "buyer" },
  returned: { from: "buyer", to: "floor" },
  "picked-up": { from: "floor", to: "member" },
  donated: { from: "floor", to: "guild" },
  lost: { from: "floor", to: "lost" },
  found: { from: "lost", to: "floor" },
} as const satisfies Record<string, { from: Place; to: Place }>;

export type MoveKind = keyof typeof moves;

/** A move as the ledger of things writes it: its name with the two places it goes between. */
export const moveOf = (kind: MoveKind) => ({
  kind,
  fromPlace: moves[kind].from,
  toPlace: moves[kind].to,
});

/** Whether a move of this name goes between exactly these two places. */
export function movedOk(kind: string, from: string, to: string): kind is MoveKind {
  if (!Object.hasOwn(moves, kind)) return false;
  const move = moves[kind as MoveKind];
  return move.from === from && move.to === to;
}

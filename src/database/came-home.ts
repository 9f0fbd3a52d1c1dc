/** Items with pieces that stood on a floor and went home again: what a sale left unsold. */
export const cameHome = {
  withdrawnAt: null,
  count: { withMember: { gt: 0 } },
  movements: { some: { kind: "picked-up" } },
} as const;

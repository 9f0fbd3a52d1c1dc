/**
 * What the laws ask of a piece depends on the group its kind belongs to. A guild may add kinds of
 * its own: it then says which group they belong to, and the group's code works as a kind here.
 */
export const groups = [
  "apparel",
  "child-apparel",
  "sleepwear",
  "headwear",
  "gloves",
  "footwear",
  "neckwear",
  "towel",
  "household",
  "baby-blanket",
  "table",
  "rug",
  "wall",
  "bag",
  "band",
  "yardage",
  "yarn",
  "ornament",
  "jewellery",
  "toy",
  "filled",
  "cosy",
  "candle",
  "soap",
  "other",
] as const;

export type Group = (typeof groups)[number];

const groupOfKind: Record<string, Group> = {
  scarf: "apparel",
  shawl: "apparel",
  cowl: "apparel",
  vest: "apparel",
  jacket: "apparel",
  napkin: "household",
  placemats: "table",
  runner: "table",
  "mug-rug": "table",
  blanket: "household",
  "wall-piece": "wall",
};

/** What no fibre or care law speaks of. */
export const notTextile: readonly Group[] = ["candle", "soap"];

/** The group of a kind of goods; a kind nobody has sorted yet is "other". */
export function groupOf(kind: string): Group {
  if (Object.hasOwn(groupOfKind, kind)) return groupOfKind[kind]!;
  return groups.find((group) => group === kind) ?? "other";
}

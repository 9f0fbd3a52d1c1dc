import type { ShownItem } from "../../database/items.ts";
import { formatMoney } from "../../rules/currency.ts";
import { piecesText } from "../../rules/item.ts";
import type { ItemState, Pieces } from "../../rules/item-state.ts";

export interface GuildWords {
  currency: string;
  locale: string;
  timeZone: string;
}

const badges = {
  entered: { text: "Entered", kind: "wait", icon: "tag" },
  "turned-away": { text: "Turned away", kind: "bad", icon: "cross" },
  "on-floor": { text: "On the floor", kind: "dye", icon: "basket" },
  sold: { text: "Sold", kind: "good", icon: "coins" },
  "with-guild": { text: "Given to the guild", kind: "plain", icon: "home" },
  lost: { text: "Missing", kind: "bad", icon: "warn" },
  home: { text: "Back home", kind: "plain", icon: "home" },
  withdrawn: { text: "Withdrawn", kind: "plain", icon: "closed" },
} as const satisfies Record<ItemState, { text: string; kind: string; icon: string }>;

/** Pieces that the word of a state speaks of; for a single piece the word says it all. */
const counted: Partial<Record<ItemState, (pieces: Pieces) => number>> = {
  "on-floor": (pieces) => pieces.onFloor,
  sold: (pieces) => pieces.withBuyer,
  "with-guild": (pieces) => pieces.withGuild,
  lost: (pieces) => pieces.lost,
};

/** Where an item is, as a word, an icon and a colour: "3 of 5 on the floor". */
export function badgeOf({ state, pieces }: Pick<ShownItem, "state" | "pieces">) {
  const badge = badges[state];
  const count = counted[state]?.(pieces) ?? pieces.entered;
  if (pieces.entered === 1 || count === pieces.entered) return badge;
  const word = badge.text.charAt(0).toLowerCase() + badge.text.slice(1);
  return { ...badge, text: `${count} of ${pieces.entered} ${word}` };
}

/** An item as a row of a list. */
export const rowOf = (item: ShownItem, guild: GuildWords) => ({
  href: `/items/${item.id}`,
  shownTag: item.shownTag,
  description: item.description,
  more: [item.kindName, item.colours, item.size].filter(Boolean).join(", "),
  pieces: piecesText(item.quantity, item.piecesInSet),
  price: formatMoney(item.price, guild.currency, guild.locale),
  memberNumber: item.memberNumber,
  badge: badgeOf(item),
});

/** What the price buys, where that is not plain. */
const forWhat = ({ quantity, piecesInSet }: ShownItem): string => {
  if (piecesInSet > 1) return quantity > 1 ? " for each set" : " for the set";
  return quantity > 1 ? " each" : "";
};

/** An item as a list of facts. */
export function factsOf(item: ShownItem, guild: GuildWords) {
  const pieces = piecesText(item.quantity, item.piecesInSet) || "1 piece";
  const price = formatMoney(item.price, guild.currency, guild.locale);
  const rows = [
    { label: "Price", value: price + forWhat(item) },
    { label: "Pieces", value: pieces },
    { label: "Kind", value: item.kindName },
    { label: "Technique", value: item.technique },
    { label: "Size", value: item.size },
    { label: "Colours", value: item.colours },
    { label: "On the last day", value: item.markdown ? "May be marked down" : "Keeps its price" },
    { label: "Money goes to", value: item.donated ? "The guild, all of it" : "" },
    { label: "Member", value: String(item.memberNumber) },
  ];
  return rows.filter(({ value }) => value !== "");
}

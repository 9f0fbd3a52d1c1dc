import { checkInItem } from "../../actions/check-in-item.ts";
import { checkInItems } from "../../actions/check-in-items.ts";
import { enterItems } from "../../actions/enter-items.ts";
import type { Actor } from "../../database/perform.ts";
import type { Dice } from "./dice.ts";
import { type Goods, makeGoods } from "./goods.ts";
import { type Cast, must } from "./guild.ts";

const coins = 100;

const asEntry = (goods: Goods) => ({ ...goods, price: goods.price * coins });

/** Every weaver enters what they have made, accepting the sale's terms with it. Returns the tags by member. */
export async function enterGoods(
  cast: Cast,
  dice: Dice,
  saleId: string,
  pieces: number,
): Promise<Map<Actor, string[]>> {
  const entered = new Map<Actor, string[]>();
  const each = Math.ceil(pieces / cast.members.length);
  for (const member of cast.members) {
    const items = Array.from({ length: Math.max(3, each + dice.between(-6, 6)) }, () =>
      asEntry(makeGoods(dice)),
    );
    const given = { saleId, memberId: member.id, items, agreementVersion: 1 };
    const done = must(await enterItems(cast.as(member), given, new Date()));
    entered.set(
      member,
      done.map(({ tag }) => tag),
    );
  }
  return entered;
}

/** The desk takes in what comes; a few pieces stay at home and a few are turned away. */
export async function checkIn(
  cast: Cast,
  dice: Dice,
  saleId: string,
  entered: Map<Actor, string[]>,
): Promise<string[]> {
  const desk = cast.as(cast.the("desk"));
  const onFloor: string[] = [];
  for (const tags of entered.values()) {
    const coming = tags.filter(() => dice.chance(95));
    const [first, ...rest] = coming;
    if (first && dice.chance(20)) {
      const reason = "The fringe is loose. Please mend it and bring it back.";
      must(await checkInItem(desk, { saleId, tag: first, decision: "turned-away", reason }));
    } else if (first) rest.push(first);
    if (rest.length === 0) continue;
    must(await checkInItems(desk, { saleId, tags: rest }));
    onFloor.push(...rest);
  }
  return onFloor;
}

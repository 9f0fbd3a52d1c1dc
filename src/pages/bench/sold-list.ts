import type { Request } from "../../plugins/types.ts";
import { dayText } from "../../rules/day.ts";
import { figuresOf, payOf } from "../../rules/sold/figures.ts";
import { dimensions } from "../../rules/sold/groups.ts";
import { found, pageOfRows } from "../../rules/sold/list.ts";
import { isElsewhere, type SoldRow } from "../../rules/sold/sold-row.ts";
import { waitWords } from "../../rules/sold/wait.ts";
import { figureCells } from "../../rules/sold/words.ts";
import { showTag } from "../../rules/tag-number.ts";
import type { GuildWords } from "../books/scene.ts";
import { whenText } from "../format.ts";
import { nextHref, searchOf } from "../want-id.ts";
import { benchNav } from "./bench-nav.ts";
import { choicesOf, type SoldScene, withFilter } from "./sold-scene.ts";

const path = "/bench/sold/pieces";

/** The pieces behind a figure: sold ones first, the newest on top, then those that did not sell. */
export function soldListPage(request: Request, scene: SoldScene) {
  const { guild, rows, filter } = scene;
  const query = request.query as { q?: unknown; after?: unknown };
  const q = searchOf(query.q);
  const wanted = found(rows, filter, q);
  const after = typeof query.after === "string" ? query.after : undefined;
  const { items, next } = pageOfRows(wanted, { after, limit: 50 });
  const all = figuresOf(wanted);
  return {
    title: "Pieces, sold and not",
    ...{ rooms: benchNav("/bench/sold"), path, q, any: rows.length > 0 },
    choices: choicesOf(scene, dimensions),
    backHref: withFilter("/bench/sold", filter),
    sums: { ...figureCells(all, guild.money), entered: all.entered },
    pieces: items.map((row) => pieceRow(row, guild)),
    next: nextHref(path, next, { ...filter, q }),
  };
}

function pieceRow(row: SoldRow, guild: GuildWords) {
  const { perHour } = payOf([row]);
  const away = isElsewhere(row);
  return {
    description: row.description,
    href: away ? `/bench/elsewhere/${row.key}` : row.itemId ? `/items/${row.itemId}` : "",
    tag: row.tag ? showTag(row.tag) : "",
    more: [row.kindName, row.whereName].filter(Boolean).join(", "),
    when: whenSold(row, guild, away),
    badge: badgeOf(row),
    pieces: row.soldAt === null ? row.entered : row.sold,
    price: guild.money(row.price),
    amount: row.soldAt === null || row.given ? "" : guild.money(row.amount),
    left:
      row.soldAt === null || row.given
        ? ""
        : row.settled
          ? guild.money(row.left)
          : "Not settled yet",
    wait: row.wait === null ? "" : waitWords(row.wait),
    pay: perHour === null ? "" : guild.money(perHour),
  };
}

const whenSold = ({ soldAt }: SoldRow, guild: GuildWords, away: boolean): string => {
  if (soldAt === null) return "";
  return away ? dayText(soldAt, guild.locale) : whenText(soldAt, guild);
};

function badgeOf({ soldAt, sold, given }: SoldRow) {
  if (soldAt === null) return { text: "Not sold", kind: "plain", icon: "tag" };
  if (sold <= 0) return { text: "Brought back", kind: "wait", icon: "back" };
  return given ? { text: "Gift to the guild", kind: "plain", icon: "home" } : null;
}

import { colourFamily } from "../../rules/colour-family.ts";
import type { Fibre } from "../../rules/fibre.ts";
import { groupBy } from "../../rules/group-by.ts";
import type { LabelYarn } from "../../rules/labels/details.ts";
import { mainFibre } from "../../rules/labels/main-fibre.ts";
import { total } from "../../rules/money.ts";
import { bandOf } from "../../rules/sold/price-band.ts";
import type { SoldRow } from "../../rules/sold/sold-row.ts";
import { paceOf } from "../../rules/sold/wait.ts";
import type { Transaction } from "../client.ts";
import { type ElsewhereRead, listElsewhere } from "./elsewhere.ts";
import { type OwnItem, ownItemsOf } from "./own-items.ts";
import { type SoldPart, soldPartsOf } from "./sold-parts.ts";

interface SaleOf {
  name: string;
  day: string;
}

interface Scene {
  sales: ReadonlyMap<string, SaleOf>;
  items: ReadonlyMap<string, OwnItem>;
  currency: string;
}

/**
 * Everything that became of one member's pieces, what sold first with the newest on top, then what
 * did not. Nobody else's row is ever read.
 */
export async function soldRowsOf(db: Transaction, memberId: string): Promise<SoldRow[]> {
  const { currency } = await db.guild.findFirstOrThrow();
  const items = await ownItemsOf(db, memberId);
  const parts = await soldPartsOf(db, memberId);
  const elsewhere = await listElsewhere(db, memberId);
  const saleIds = [...new Set([...items, ...parts].map(({ saleId }) => saleId))];
  const sales = await db.sale.findMany({ where: { id: { in: saleIds } } });
  const scene: Scene = {
    ...{ currency, items: new Map(items.map((item) => [item.id, item])) },
    sales: new Map(
      sales.map(({ id, name, firstDay }) => [
        id,
        { name, day: firstDay.toISOString().slice(0, 10) },
      ]),
    ),
  };
  const sold = [
    ...parts.map((part) => partRow(part, scene)),
    ...elsewhere.items.filter(({ takenBack }) => !takenBack).map((one) => awayRow(one, scene)),
  ].sort(byMoment);
  return [...sold, ...unsoldRows(parts, scene)];
}

const byMoment = (one: SoldRow, other: SoldRow): number =>
  (one.soldAt ?? "") < (other.soldAt ?? "")
    ? 1
    : (one.soldAt ?? "") > (other.soldAt ?? "")
      ? -1
      : 0;

function partRow(part: SoldPart, scene: Scene): SoldRow {
  const { id, pieces, donated, amount, kept, left, open, settled, wait } = part;
  const item = part.itemId === null ? undefined : scene.items.get(part.itemId);
  const each = pieces > 0 ? Math.trunc(amount / pieces) : 0;
  return {
    ...placeOf(part.saleId, scene),
    ...(item ? aboutItem(item, scene) : aboutLine(part, each, scene)),
    key: id,
    // A piece that lost its tag is among the entered ones already, under that tag.
    entered: item ? pieces : 0,
    sold: pieces,
    given: donated,
    ...{ amount, kept: donated ? 0 : kept, left: donated ? 0 : left, open: donated ? 0 : open },
    ...{ settled, wait, pace: wait === null ? "" : paceOf(wait) },
    soldAt: part.soldAt.toISOString(),
  };
}

const nothing = { sold: 0, given: false, amount: 0, kept: 0, left: 0, open: 0, settled: true };

function unsoldRows(parts: readonly SoldPart[], scene: Scene): SoldRow[] {
  const partsOf = groupBy(parts, ({ itemId }) => itemId);
  return [...scene.items.values()].flatMap((item): SoldRow[] => {
    const sold = total((partsOf.get(item.id) ?? []).map(({ pieces }) => pieces));
    if (item.entered <= sold) return [];
    return [
      {
        ...placeOf(item.saleId, scene),
        ...aboutItem(item, scene),
        ...nothing,
        ...{ key: item.id, entered: item.entered - sold, pace: "", soldAt: null, wait: null },
      },
    ];
  });
}

function awayRow(one: ElsewhereRead, { currency, items }: Scene): SoldRow {
  const making = one.itemId === null ? undefined : items.get(one.itemId);
  const { kept, left, price, quantity } = one;
  return {
    ...{ where: `outlet:${one.outlet}`, whereName: one.outlet, day: one.day, key: one.id },
    ...{ itemId: one.itemId, tag: "", description: one.description, price },
    ...{ kind: one.kind, kindName: one.kindName, band: bandOf(price, currency) },
    ...madeOf(one.fibres, [], one.colours),
    ...{ ...nothing, entered: 0, sold: quantity, amount: price * quantity, kept, left },
    ...{ pace: "", wait: null, soldAt: one.day },
    minutes: one.minutes ?? making?.minutes ?? null,
    materials: one.materials ?? making?.materials ?? null,
  };
}

const placeOf = (saleId: string, { sales }: Scene) => ({
  where: `sale:${saleId}`,
  whereName: sales.get(saleId)?.name ?? "",
  day: sales.get(saleId)?.day ?? "",
});

const aboutItem = (item: OwnItem, { currency }: Scene) => ({
  ...{ itemId: item.id, tag: item.tag, description: item.description, price: item.price },
  ...{ kind: item.kind, kindName: item.kindName, band: bandOf(item.price, currency) },
  ...madeOf(item.fibres, item.yarns, item.colours),
  ...{ minutes: item.minutes, materials: item.materials },
});

/** What a receipt says of a piece without a tag, which is all that anybody knows. */
const aboutLine = (part: SoldPart, price: number, { currency }: Scene) => ({
  ...{ itemId: null, tag: part.tag, description: part.description, price },
  ...{ kind: "", kindName: "", band: bandOf(price, currency), fibre: "", colour: "" },
  ...{ minutes: null, materials: null },
});

const madeOf = (fibres: readonly Fibre[], yarns: readonly LabelYarn[], colours: string) => ({
  fibre: mainFibre(fibres, yarns) ?? "",
  colour: colourFamily(colours) ?? "",
});

import type { Fibre } from "../rules/fibre.ts";
import { nearestWhole } from "../rules/fraction.ts";
import type { WarpSheet } from "../rules/weave/sheet.ts";
import { workOutSheet } from "../rules/weave/work-out.ts";
import type { Database } from "./client.ts";

/** What is known of a piece before anything is typed; null or empty for what is not. */
export interface PriceStart {
  name: string;
  materials: number | null;
  setUp: number;
  weaving: number;
  finishing: number;
  kind: string;
  fibre: string;
  size: string;
  piecesInSet: number;
  price: number | null;
  /** What a member should know about the figures. */
  notes: string[];
}

const unknown: PriceStart = {
  ...{ name: "", materials: null, setUp: 0, weaving: 0, finishing: 0 },
  ...{ kind: "", fibre: "", size: "", piecesInSet: 1, price: null, notes: [] },
};

/** One of the pieces of an own warp sheet; null for a sheet or a piece that is not there. */
export async function startFromSheet(
  db: Database,
  memberId: string,
  { sheetId, run }: { sheetId: string; run: number },
): Promise<PriceStart | null> {
  const row = await db.warpSheet.findFirst({ where: { id: sheetId, memberId } });
  const sheet = row?.sheet as unknown as WarpSheet | undefined;
  const planned = sheet?.runs[run];
  if (!row || !sheet || !planned) return null;
  const { making } = workOutSheet(sheet).runs[run]!;
  const lacking = "A yarn of the sheet has no price, so that the materials are too low.";
  return {
    ...unknown,
    name: making.name === "" ? row.name : `${row.name}: ${making.name}`,
    materials: Number(nearestWhole(making.materials)),
    setUp: Number(nearestWhole(making.setUpMinutes)),
    weaving: Number(nearestWhole(making.weavingMinutes)),
    finishing: Number(nearestWhole(making.finishingMinutes)),
    kind: planned.kind,
    notes: making.pricesKnown ? [] : [lacking],
  };
}

/** An own item with what is noted about its making; null for an unknown or another's item. */
export async function startFromItem(
  db: Database,
  memberId: string,
  itemId: string,
): Promise<PriceStart | null> {
  const item = await db.item.findFirst({
    where: { id: itemId, memberId },
    include: { making: true, kind: { select: { code: true } } },
  });
  if (!item) return null;
  const { minutes = null, materials = null } = item.making ?? {};
  return {
    ...unknown,
    ...{ name: item.description, size: item.size, piecesInSet: item.piecesInSet },
    ...{ kind: item.kind.code, fibre: chiefFibre(item.fibres as unknown as Fibre[]) },
    ...{ price: Number(item.price), materials: materials === null ? null : Number(materials) },
    weaving: minutes ?? 0,
    notes: [
      minutes === null
        ? "No hours are noted with this piece yet."
        : "All the hours that are noted with this piece stand under weaving.",
    ],
  };
}

const chiefFibre = (fibres: readonly Fibre[]): string =>
  fibres.toSorted((one, other) => other.percent - one.percent)[0]?.fibre ?? "";

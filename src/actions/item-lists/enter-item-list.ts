import type { Transaction } from "../../database/client.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuse, refuseField } from "../../rules/problem.ts";
import { mayEnterFor } from "../entry-rules.ts";
import { lockMember, shareSale } from "../lock-rows.ts";
import { type Entered, writeItems } from "../write-items.ts";
import { type LookedRow, lookAtList } from "./look-at-list.ts";
import { writeList } from "./write-list.ts";

export interface EnterList {
  saleId: string;
  memberId: string;
  text: string;
  twins: "leave" | "enter";
  expected?: number | undefined;
  agreementVersion?: number | undefined;
}

export interface ListEntered {
  listId: string;
  entered: (Entered & { row: number })[];
  leftOut: number;
}

/**
 * Enters the good rows of a list, all of them or none. The list is looked at once more under the
 * lock of the member: what the same list has entered a moment ago is a twin by now.
 */
export const enterItemList = (
  deed: Deed,
  given: EnterList,
  now: Date,
): Promise<Result<ListEntered>> =>
  perform(deed, "enter-item-list", given, async (tx) => {
    const rows = await rowsToEnter(tx, deed, given);
    if (!rows.ok) return rows;
    const { saleId, memberId, agreementVersion } = given;
    const { wanted, leftOut } = rows.value;
    const items = wanted.map(({ item }) => item);
    const entry = {
      ...{ saleId, memberId, items },
      ...(agreementVersion === undefined ? {} : { agreementVersion }),
    };
    const written = await writeItems(tx, deed.actor, entry, now);
    if (!written.ok) return written;
    const entered = written.value.map((one, index) => ({ ...one, row: wanted[index]!.row }));
    await writeMakings(tx, wanted, written.value);
    const source = "spreadsheet" as const;
    const listId = await writeList(tx, { memberId, saleId, source, leftOut, now }, entered);
    const detail = {
      ...{ saleId, listId, items: entered.length, leftOut },
      ...{ firstTag: entered[0]?.tag, lastTag: entered.at(-1)?.tag },
    };
    return ok({ value: { listId, entered, leftOut }, subjectId: memberId, detail });
  });

interface Wanted {
  wanted: LookedRow[];
  leftOut: number;
}

async function rowsToEnter(
  tx: Transaction,
  { actor }: Deed,
  { saleId, memberId, text, twins, expected }: EnterList,
): Promise<Result<Wanted>> {
  const may = mayEnterFor(actor, memberId);
  if (!may.ok) return may;
  const sale = await shareSale(tx, saleId);
  if (!sale.ok) return sale;
  await lockMember(tx, memberId);
  const look = await lookAtList(tx, { sale: sale.value, memberId, text, twins });
  if (!look.ok) return look;
  const { rows } = look.value;
  const wanted = rows.filter(
    ({ faults, twin }) => faults.length === 0 && (!twin || twins === "enter"),
  );
  if (wanted.length === 0)
    return refuseField("text", "No row of this list can be entered. Nothing was entered.");
  if (expected !== undefined && expected !== wanted.length)
    return refuse(
      "changed-meanwhile",
      `${wanted.length} rows could be entered now, not ${expected}. Nothing was entered; look at the list once more.`,
    );
  return ok({ wanted, leftOut: rows.length - wanted.length });
}

/** The member's own notes: only rows that say something have one. */
async function writeMakings(
  tx: Transaction,
  rows: readonly LookedRow[],
  entered: readonly Entered[],
): Promise<void> {
  const data = rows.flatMap(({ making: { minutes, materials } }, index) =>
    minutes === undefined && materials === undefined
      ? []
      : [
          {
            itemId: entered[index]!.id,
            minutes: minutes ?? null,
            materials: materials === undefined ? null : BigInt(materials),
          },
        ],
  );
  if (data.length > 0) await tx.itemMaking.createMany({ data });
}

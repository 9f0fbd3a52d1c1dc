import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { lockGuild } from "./guild-lock.ts";

/** Adds a kind of goods at the end of the guild's list. */
export const addKind = (
  deed: Deed,
  { name, labelGroup = "" }: { name: string; labelGroup?: string | undefined },
): Promise<Result<{ id: string }>> =>
  perform(deed, "add-kind", { name, labelGroup }, async (tx) => {
    await lockGuild(tx);
    if (await isTaken(tx, name)) return taken();
    const last = await tx.kind.aggregate({ _max: { position: true } });
    const position = (last._max.position ?? 0) + 1;
    const { id } = await tx.kind.create({
      data: { code: await freeCode(tx, name), name, position, labelGroup },
    });
    return ok({ value: { id }, subjectId: id, detail: { name } });
  });

/** Renames or sorts a kind, retires it or takes it back into use. Items keep their kind in any case. */
export const editKind = (
  deed: Deed,
  id: string,
  change: {
    name?: string | undefined;
    active?: boolean | undefined;
    labelGroup?: string | undefined;
  },
): Promise<Result<{ id: string }>> =>
  perform(deed, "edit-kind", { id, change }, async (tx) => {
    await lockGuild(tx);
    if (change.name !== undefined && (await isTaken(tx, change.name, id))) return taken();
    const changed = await tx.kind.updateMany({ where: { id }, data: change });
    if (changed.count === 0) return refuse("not-found", "There is no such kind.");
    return ok({ value: { id }, subjectId: id, detail: change });
  });

const taken = () => refuseField("name", "There is a kind with this name already.");

/** Two kinds that differ in case only would be told apart by nobody. */
async function isTaken(tx: Transaction, name: string, but?: string): Promise<boolean> {
  const kinds = await tx.kind.findMany({ select: { id: true, name: true } });
  return kinds.some((kind) => kind.id !== but && kind.name.toLowerCase() === name.toLowerCase());
}

/** "Table runner" becomes "table-runner"; the code stays when the kind is renamed. */
async function freeCode(tx: Transaction, name: string): Promise<string> {
  const plain = name.normalize("NFKD").toLowerCase().replace(/\p{M}/gu, "");
  const base = plain.replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || "kind";
  const rows = await tx.kind.findMany({ where: { code: { startsWith: base } } });
  const codes = new Set(rows.map(({ code }) => code));
  let code = base;
  for (let next = 2; codes.has(code); next += 1) code = `${base}-${next}`;
  return code;
}

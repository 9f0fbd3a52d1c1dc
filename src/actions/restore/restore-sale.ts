import type { z } from "zod";
import { memberRows } from "../../contract/archive.ts";
import { restoreRows } from "../../database/archive/restore-rows.ts";
import type { Database, Transaction } from "../../database/client.ts";
import { databaseError, dataRefused } from "../../database/database-error.ts";
import { rowsPath } from "../../rules/archive.ts";
import { checkPassphrase } from "../../rules/passphrase.ts";
import {
  ok,
  type Problem,
  problem,
  type Result,
  refuse,
  refuseField,
} from "../../rules/problem.ts";
import { findLink, hashLink, writeLink } from "../one-use-links.ts";
import { hashPassphrase } from "../passphrase.ts";
import { type OpenArchive, openArchive, refuseFiles } from "./open-archive.ts";

export interface RestoreAsked {
  /** Of the set-up link: only a service without a guild has one. */
  token: string;
  zip: Uint8Array;
  /** Who signs in first; without it every chair gets a link. */
  chair: { number: number; passphrase: string } | null;
  requestId: string;
}

export interface Restored {
  saleName: string;
  guildName: string;
  members: number;
  /** The chair who chose a pass phrase. */
  chairId: string | null;
  /** A link for each chair when nobody chose a pass phrase. */
  links: { number: number; name: string; token: string }[];
}

type MemberRow = z.output<typeof memberRows>[number];

/**
 * Takes an archive back into a service that is still empty: all of it or nothing. The files are
 * compared with the manifest before the database hears of them; what was written is compared
 * with it again, and the books are checked, before anything is kept.
 */
export async function restoreSale(db: Database, asked: RestoreAsked): Promise<Result<Restored>> {
  const link = await findLink(db, asked.token, ["set-up"]);
  if (!link.ok || (await db.guild.findFirst())) return taken();
  const archive = openArchive(asked.zip);
  if (!archive.ok) return archive;
  const members = membersOf(archive.value);
  if (!members) return unfit();
  const chair = asked.chair ? await chairOf(members, asked.chair) : ok(null);
  if (!chair.ok) return chair;
  try {
    const links = await db.$transaction(
      (tx) => write(tx, asked, archive.value, chair.value, members),
      patienceForAll,
    );
    const { sale, guild } = archive.value.manifest;
    const chairId = chair.value?.id ?? null;
    const names = { saleName: sale.name, guildName: guild.name };
    return ok({ ...names, members: members.length, chairId, links });
  } catch (error) {
    if (error instanceof NotKept) return { ok: false, problem: error.problem };
    if (dataRefused(error) || error instanceof SyntaxError)
      return unfit(databaseError(error)?.rule);
    throw error;
  }
}

/** The whole guild is written in one transaction; nobody else can be at work in an empty service. */
const patienceForAll = { timeout: 600_000, maxWait: 5_000 };

const taken = () =>
  refuse(
    "link-used",
    "This service has a guild already, or the link is too old. An archive goes only into a service that is still empty; a restart of one prints a new link.",
  );

/** Leaving the transaction with it rolls everything back. */
class NotKept extends Error {
  constructor(readonly problem: Problem) {
    super(problem.code);
  }
}

async function write(
  tx: Transaction,
  { token, requestId }: RestoreAsked,
  { manifest, text }: OpenArchive,
  chair: ChosenChair | null,
  members: MemberRow[],
): Promise<Restored["links"]> {
  // The count decides the winner when two archives come at once.
  const used = await tx.oneUseLink.updateMany({
    where: { tokenHash: hashLink(token), usedAt: null },
    data: { usedAt: new Date() },
  });
  if (used.count === 0) throw new NotKept(taken().problem);
  const wrong = await restoreRows(tx, manifest, text);
  if (wrong !== undefined) throw new NotKept(refuseFiles([wrong]).problem);
  if (chair)
    await tx.member.update({
      where: { id: chair.id },
      data: { passphraseHash: chair.passphraseHash },
    });
  const { madeAt, sale } = manifest;
  await tx.audit.create({
    data: {
      ...{ deed: "restore-sale", subjectId: sale.id, detail: { sale: sale.name, madeAt } },
      ...{ byId: chair?.id ?? null, requestId },
    },
  });
  return chair ? [] : linksFor(tx, members.filter(isChair));
}

async function linksFor(tx: Transaction, chairs: MemberRow[]): Promise<Restored["links"]> {
  const links: Restored["links"] = [];
  for (const { id, number, name } of chairs)
    links.push({ number, name, token: await writeLink(tx, "invitation", id) });
  return links;
}

/** The hashes fit, so somebody made the rows so: undefined when they are none of ours. */
function membersOf({ text }: OpenArchive): MemberRow[] | undefined {
  try {
    return memberRows.safeParse(JSON.parse(text(rowsPath("member")))).data;
  } catch {
    return undefined;
  }
}

const unfit = (rule?: string) =>
  refuseFiles([`Its rows do not fit together${rule ? ` (${rule})` : ""}.`]);

const isChair = ({ status, roles }: MemberRow): boolean =>
  status === "active" && roles.includes("chair");

interface ChosenChair {
  id: string;
  passphraseHash: string;
}

/** The pass phrase of somebody who is a chair in the archive. */
async function chairOf(
  members: MemberRow[],
  { number, passphrase }: { number: number; passphrase: string },
): Promise<Result<ChosenChair>> {
  const chairs = members.filter(isChair);
  const chair = chairs.find((one) => one.number === number);
  if (!chair) {
    const names = chairs.map((one) => `${one.number} (${one.name})`).join(", ");
    return refuseField(
      "number",
      `In this archive member ${number} is not the chair. Chairs in it: ${names || "none"}.`,
    );
  }
  const errors = checkPassphrase(passphrase, [chair.name, chair.email ?? ""]);
  if (errors[0]) return { ok: false, problem: problem("invalid-input", errors[0].message, errors) };
  return ok({ id: chair.id, passphraseHash: await hashPassphrase(passphrase) });
}

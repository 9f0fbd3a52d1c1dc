import { createHash, randomBytes } from "node:crypto";
import { type Database, patience, type Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { newHash } from "./passphrase.ts";

export type LinkPurpose = "set-up" | "invitation" | "reset";

/** A reset is asked for and used the same day; an invitation waits for the next evening at home. */
const hoursValid: Record<LinkPurpose, number> = {
  "set-up": 24 * 30,
  invitation: 24 * 14,
  reset: 24,
};

export const hashLink = (token: string): string => createHash("sha256").update(token).digest("hex");

/** Writes a new link and ends earlier ones of the same kind. Returns the token: only its hash is kept. */
export async function writeLink(
  tx: Transaction,
  purpose: LinkPurpose,
  memberId: string | null,
): Promise<string> {
  const token = randomBytes(24).toString("base64url");
  const now = new Date();
  await tx.oneUseLink.updateMany({
    where: { purpose, memberId, usedAt: null },
    data: { usedAt: now },
  });
  const expiresAt = new Date(now.getTime() + hoursValid[purpose] * 3_600_000);
  await tx.oneUseLink.create({
    data: { purpose, memberId, tokenHash: hashLink(token), expiresAt },
  });
  return token;
}

/** The chair makes a link for a member to choose a pass phrase: the first one or a new one. */
export const offerLink = (
  deed: Deed,
  memberId: string,
): Promise<Result<{ token: string; purpose: LinkPurpose }>> =>
  // The link is never stored under a key: a replay would have to keep the token readable.
  perform({ ...deed, key: undefined }, "offer-link", { memberId }, async (tx) => {
    const member = await tx.member.findUnique({ where: { id: memberId } });
    if (!member) return refuse("not-found", "There is no such member.");
    const purpose = member.passphraseHash ? "reset" : "invitation";
    const token = await writeLink(tx, purpose, memberId);
    return ok({ value: { token, purpose }, subjectId: memberId, detail: { purpose } });
  });

/** Who a link is for; refused when it was used or is too old. */
export async function findLink(db: Database, token: string, purposes: readonly LinkPurpose[]) {
  const link = await db.oneUseLink.findUnique({
    where: { tokenHash: hashLink(token) },
    include: { member: true },
  });
  const usable =
    link &&
    !link.usedAt &&
    link.expiresAt > new Date() &&
    purposes.includes(link.purpose as LinkPurpose);
  if (!usable) return usedUp();
  return ok({ purpose: link.purpose as LinkPurpose, member: link.member });
}

const usedUp = () =>
  refuse("link-used", "Ask the chair for a new link. What you set before still holds.");

/** Uses a link: sets the pass phrase and ends every session the account had. */
export async function choosePassphrase(
  db: Database,
  given: { token: string; passphrase: string; requestId: string },
): Promise<Result<{ memberId: string }>> {
  const link = await findLink(db, given.token, ["invitation", "reset"]);
  if (!link.ok) return link;
  const member = link.value.member;
  if (!member) return usedUp();
  const hashed = await newHash(db, member, given.passphrase);
  if (!hashed.ok) return hashed;
  const passphraseHash = hashed.value;
  const won = await db.$transaction(async (tx) => {
    // The count decides the winner when the link is used twice at once.
    const used = await tx.oneUseLink.updateMany({
      where: { tokenHash: hashLink(given.token), usedAt: null },
      data: { usedAt: new Date() },
    });
    if (used.count === 0) return false;
    await tx.member.update({ where: { id: member.id }, data: { passphraseHash } });
    await tx.session.updateMany({
      where: { memberId: member.id, endedAt: null },
      data: { endedAt: new Date() },
    });
    await tx.audit.create({
      data: {
        deed: "choose-passphrase",
        subjectId: member.id,
        detail: {},
        byId: member.id,
        requestId: given.requestId,
      },
    });
    return true;
  }, patience);
  return won ? ok({ memberId: member.id }) : usedUp();
}

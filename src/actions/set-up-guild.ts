import type { z } from "zod";
import type { GuildInput, personShape } from "../contract/guild.ts";
import { type Database, patience } from "../database/client.ts";
import { firstKinds } from "../rules/kinds.ts";
import { packForLocale } from "../rules/labels/pack-for-locale.ts";
import { checkPassphrase } from "../rules/passphrase.ts";
import { ok, problem, type Result, refuse } from "../rules/problem.ts";
import { firstMemberNumber } from "../rules/tag-number.ts";
import { hashLink, writeLink } from "./one-use-links.ts";
import { hashPassphrase } from "./passphrase.ts";

/** A link for an empty database, or undefined when a guild is there already. */
export async function offerSetUp(db: Database): Promise<string | undefined> {
  if (await db.guild.findFirst()) return undefined;
  return db.$transaction((tx) => writeLink(tx, "set-up", null), patience);
}

export interface SetUp {
  token: string;
  guild: GuildInput;
  chair: z.infer<typeof personShape>;
  requestId: string;
}

/** Names the guild and makes the first account, once: the link and the guild's one row guard it. */
export async function setUpGuild(
  db: Database,
  given: SetUp,
): Promise<Result<{ memberId: string }>> {
  const { guild, chair } = given;
  const errors = checkPassphrase(chair.passphrase, [chair.name, chair.email, guild.name]);
  if (errors[0]) return { ok: false, problem: problem("invalid-input", errors[0].message, errors) };
  const passphraseHash = await hashPassphrase(chair.passphrase);
  const memberId = await db.$transaction(async (tx) => {
    const used = await tx.oneUseLink.updateMany({
      where: {
        tokenHash: hashLink(given.token),
        purpose: "set-up",
        usedAt: null,
        expiresAt: { gt: new Date() },
      },
      data: { usedAt: new Date() },
    });
    if (used.count === 0) return undefined;
    await tx.guild.create({
      data: { ...guild, jurisdiction: packForLocale(guild.locale) },
    });
    await tx.kind.createMany({
      data: firstKinds.map((kind, index) => ({ ...kind, position: index + 1 })),
    });
    const number = firstMemberNumber(guild.tagLength);
    const { name, email } = chair;
    const member = await tx.member.create({
      data: { number, name, email, roles: ["member", "chair"], passphraseHash },
    });
    await tx.audit.create({
      data: {
        deed: "set-up-guild",
        subjectId: member.id,
        detail: { guild: guild.name },
        byId: member.id,
        requestId: given.requestId,
      },
    });
    return member.id;
  }, patience);
  if (!memberId)
    return refuse(
      "link-used",
      "This guild has been set up, or the link is too old. A restart of an empty service prints a new one.",
    );
  return ok({ memberId });
}

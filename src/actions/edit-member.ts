import type { MemberChange } from "../contract/member.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { emailTaken, lockGuild } from "./guild-lock.ts";

/** Changes a member. Resting ends every session at once; the last active chair stays one. */
export const editMember = (
  deed: Deed,
  id: string,
  change: MemberChange,
): Promise<Result<{ id: string; version: number }>> =>
  perform(
    deed,
    "edit-member",
    { id, change },
    async (tx) => {
      const { version, ...data } = change;
      await lockGuild(tx);
      if (!(await tx.member.findUnique({ where: { id }, select: { id: true } })))
        return refuse("not-found", "There is no such member.");
      if (takesChair(data) && (await isLastChair(tx, id)))
        return refuseField(
          data.status === "resting" ? "status" : "roles",
          "This is the only active chair. Make somebody else chair first.",
        );
      const changed = await tx.member.updateMany({
        where: { id, version },
        data: { ...data, version: { increment: 1 } },
      });
      if (changed.count === 0)
        return refuse(
          "changed-meanwhile",
          "Nothing of yours was recorded. Load the page again and repeat the change.",
        );
      if (data.status === "resting") await endAccess(tx, id);
      const detail = { fields: Object.keys(data), ...rolesAndStatus(data) };
      return ok({ value: { id, version: version + 1 }, subjectId: id, detail });
    },
    emailTaken,
  );

type Data = Omit<MemberChange, "version">;

/** Who may do what belongs in the audit; names and addresses do not. */
const rolesAndStatus = ({ roles, status }: Data): object => ({
  ...(roles ? { roles } : {}),
  ...(status ? { status } : {}),
});

const takesChair = ({ roles, status }: Data): boolean =>
  status === "resting" || (roles !== undefined && !roles.includes("chair"));

async function isLastChair(tx: Transaction, id: string): Promise<boolean> {
  const chairs = await tx.member.findMany({
    where: { status: "active", roles: { has: "chair" } },
    select: { id: true },
    take: 2,
  });
  return chairs.length === 1 && chairs[0]?.id === id;
}

async function endAccess(tx: Transaction, memberId: string): Promise<void> {
  const now = new Date();
  await tx.session.updateMany({ where: { memberId, endedAt: null }, data: { endedAt: now } });
  await tx.oneUseLink.updateMany({ where: { memberId, usedAt: null }, data: { usedAt: now } });
}

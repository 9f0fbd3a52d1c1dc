import { findMemberBank } from "../../database/member-bank.ts";
import type { Request } from "../../plugins/types.ts";
import { identityLines } from "../../rules/labels/identity.ts";
import { settingOf } from "../../rules/labels/label-setting.ts";
import { accountEnding } from "../../rules/paying/bank-account.ts";
import type { Problem } from "../../rules/problem.ts";
import { hasAny } from "../../rules/roles.ts";
import { methodWords } from "../books/statement-page.ts";
import { whenText } from "../format.ts";

/** Everything that the page of one's own account shows. */
export async function accountPage(request: Request, problem?: Problem) {
  const { db } = request.server.parts;
  const actor = request.who();
  const person = await db.member.findUniqueOrThrow({ where: { id: actor.id } });
  const guild = await db.guild.findFirstOrThrow();
  const setting = settingOf(guild, person);
  const bank = await findMemberBank(db, actor.id);
  const sessions = await db.session.findMany({
    where: { memberId: actor.id, endedAt: null, expiresAt: { gt: request.server.now() } },
    orderBy: { rotatedAt: "desc" },
    take: 50,
  });
  return {
    title: "My account",
    problem,
    values: {
      businessName: person.businessName,
      postalLine: person.postalLine,
      registeredNumber: person.registeredNumber,
      version: String(person.version),
    },
    makerRule: setting.pack.identity.words,
    makerNow: identityLines(setting.maker, setting.pack).lines.join(", ") || "nothing yet",
    numberExample: setting.pack.identity.number?.example,
    needsAddress: setting.pack.identity.needsAddress,
    maySell: hasAny(actor.roles, ["cashier", "chair"]),
    hasPin: person.pinHash !== null,
    facts: [
      { label: "Member number", value: String(person.number) },
      { label: "Name", value: person.name },
      { label: "E-mail", value: person.email ?? "none" },
      { label: "Roles", value: actor.roles.join(", ") },
    ],
    payment: [
      {
        label: "Wished",
        value: bank.payMethod ? methodWords[bank.payMethod] : "As the guild decides",
      },
      { label: "Paid to", value: bank.payee || person.name },
      { label: "Account", value: accountEnding(bank.account) || "none" },
    ],
    devices: sessions.map((session) => ({
      id: session.id,
      name: deviceName(session.device),
      seen: whenText(session.rotatedAt, guild),
      here: session.id === request.signedIn?.sessionId,
    })),
  };
}

/** A browser's own description is long and unreadable; two words of it are enough to tell devices apart. */
function deviceName(agent: string): string {
  const browser = /(Firefox|Edg|Chrome|Safari|curl|node)/i.exec(agent)?.[1] ?? "Another program";
  const system = /(Android|iPhone|iPad|Windows|Mac OS|Linux)/i.exec(agent)?.[1];
  return system ? `${browser} on ${system}` : browser;
}

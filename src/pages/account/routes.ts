import { z } from "zod";
import { changePassphrase } from "../../actions/change-passphrase.ts";
import { editMemberLabels } from "../../actions/edit-member-labels.ts";
import { endSessions } from "../../actions/sessions.ts";
import { personShape } from "../../contract/guild.ts";
import { memberLabelsShape } from "../../contract/label-settings.ts";
import { versionNumber } from "../../contract/version.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { identityLines } from "../../rules/labels/identity.ts";
import { settingOf } from "../../rules/labels/label-setting.ts";
import type { Problem } from "../../rules/problem.ts";
import { whenText } from "../format.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";

const form = z.strictObject({
  current: z.string().min(1, "Give your present pass phrase").max(1024),
  passphrase: personShape.shape.passphrase,
});

const labelsForm = memberLabelsShape.extend({ version: z.coerce.number().pipe(versionNumber) });

/** One's own account: the pass phrase, and the devices that are signed in. */
export async function accountPages(app: App): Promise<void> {
  const mine = { config: { access: "signed-in" as const } };

  app.get("/account", mine, async (request, reply) =>
    reply.page("account/account", await accountPage(request)),
  );

  app.post("/account/pass-phrase", mine, async (request, reply) => {
    const read = readForm(form, request.body);
    const sessionId = request.signedIn?.sessionId ?? "";
    const changed = read.ok
      ? await changePassphrase(request.deed(), { ...read.value, sessionId })
      : read;
    if (!changed.ok)
      return reply.page(
        "account/account",
        await accountPage(request, changed.problem),
        changed.problem.status,
      );
    return reply.seeOther("/account", {
      kind: "good",
      text: "Your pass phrase is changed. Other devices were signed out.",
    });
  });

  app.post("/account/labels", mine, async (request, reply) => {
    const read = readForm(labelsForm, request.body);
    const changed = read.ok ? await editMemberLabels(request.deed(), read.value) : read;
    if (!changed.ok)
      return reply.page(
        "account/account",
        { ...(await accountPage(request, changed.problem)), values: request.body },
        changed.problem.status,
      );
    return reply.seeOther("/account", {
      kind: "good",
      text: "This stands on your labels from now on. Tags that are printed already are out of date.",
    });
  });

  app.post<{ Params: { id: string } }>("/account/devices/:id/end", mine, async (request, reply) => {
    const id = wantId(request.params.id, "this device");
    const ended = await endSessions(app.parts.db, request.who(), { only: id }, app.now());
    if (ended === 0) throw notFound("this device");
    return reply.seeOther("/account", { kind: "good", text: "That device is signed out." });
  });
}

async function accountPage(request: Request, problem?: Problem) {
  const { db } = request.server.parts;
  const actor = request.who();
  const person = await db.member.findUniqueOrThrow({ where: { id: actor.id } });
  const guild = await db.guild.findFirstOrThrow();
  const setting = settingOf(guild, person);
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
    facts: [
      { label: "Member number", value: String(person.number) },
      { label: "Name", value: person.name },
      { label: "E-mail", value: person.email ?? "none" },
      { label: "Roles", value: actor.roles.join(", ") },
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

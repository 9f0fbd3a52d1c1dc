import { z } from "zod";
import { changePassphrase } from "../../actions/change-passphrase.ts";
import { editMemberLabels } from "../../actions/edit-member-labels.ts";
import { endSessions } from "../../actions/sessions.ts";
import { personShape } from "../../contract/guild.ts";
import { memberLabelsShape } from "../../contract/label-settings.ts";
import { versionNumber } from "../../contract/version.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App } from "../../plugins/types.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { accountPage } from "./account-page.ts";
import { letterChoicePages } from "./letter-routes.ts";
import { pinPages } from "./pin-routes.ts";

const form = z.strictObject({
  current: z.string().min(1, "Give your present pass phrase").max(1024),
  passphrase: personShape.shape.passphrase,
});

const labelsForm = memberLabelsShape.extend({ version: z.coerce.number().pipe(versionNumber) });

/** One's own account: the pass phrase, and the devices that are signed in. */
export async function accountPages(app: App): Promise<void> {
  const mine = { config: { access: "signed-in" as const } };
  await app.register(pinPages);
  await app.register(letterChoicePages);

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

import { z } from "zod";
import { editPayingSettings } from "../../actions/edit-paying-settings.ts";
import { payingSettingsShape } from "../../contract/paying.ts";
import type { App } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { books } from "../books/scene.ts";
import { readForm } from "../read-form.ts";
import { payingPlaces } from "./scene.ts";

const { shape } = payingSettingsShape;
const form = payingSettingsShape.extend({
  version: z.coerce.number().pipe(shape.version),
  remindFirst: z.coerce.number().pipe(shape.remindFirst),
  remindAgain: z.coerce.number().pipe(shape.remindAgain),
});

/** The guild's own account, and when members are reminded of money that waits. */
export async function payingSettingsPages(app: App): Promise<void> {
  app.get("/books/paying", books, async (_request, reply) =>
    reply.page("paying/settings", page(await app.parts.db.payingSetting.findFirstOrThrow())),
  );

  app.post("/books/paying", books, async (request, reply) => {
    const read = readForm(form, request.body);
    const edited = read.ok ? await editPayingSettings(request.deed(), read.value) : read;
    if (!edited.ok)
      return reply.page(
        "paying/settings",
        page(request.body, edited.problem),
        edited.problem.status,
      );
    return reply.seeOther("/books/paying", {
      kind: "good",
      text: "The change is kept. Runs that are prepared already keep what they had.",
    });
  });
}

const page = (values: unknown, problem?: Problem) => ({
  title: "Account and reminders",
  places: payingPlaces("/books/paying"),
  values,
  problem,
});

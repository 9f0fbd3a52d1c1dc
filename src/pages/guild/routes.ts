import { z } from "zod";
import { editGuild } from "../../actions/edit-guild.ts";
import { guildChange, guildShape } from "../../contract/guild.ts";
import { versionNumber } from "../../contract/version.ts";
import type { App, Request } from "../../plugins/types.ts";
import { amountText, parseMoney } from "../../rules/currency.ts";
import { currencies } from "../../rules/currency-table.ts";
import { ok, type Problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { kindPages } from "./kind-routes.ts";
import { guildLabelPages } from "./label-routes.ts";
import { guildPlaces } from "./places.ts";

const chair = { config: { access: ["chair"] as const } };

const form = z.strictObject({
  name: guildShape.shape.name,
  address: guildChange.shape.address.unwrap(),
  locale: guildShape.shape.locale,
  timeZone: guildShape.shape.timeZone,
  currency: guildShape.shape.currency,
  tagLength: z
    .enum(["8", "10"], "Choose 8 or 10 digits")
    .transform((text) => (text === "8" ? (8 as const) : (10 as const))),
  paper: guildChange.shape.paper.unwrap(),
  showMemberName: z
    .literal("yes")
    .optional()
    .transform((text) => text === "yes"),
  secondPersonAbove: guildChange.shape.secondPersonAbove.unwrap(),
  version: z.coerce.number().pipe(versionNumber),
});

/** An empty amount means that one person settles alone. */
function readGuild(body: unknown, now: { currency: string }) {
  const fields = (body ?? {}) as Record<string, unknown>;
  const typed = String(fields.secondPersonAbove ?? "");
  const amount = typed === "" ? ok(null) : parseMoney(typed, now.currency, "secondPersonAbove");
  return amount.ok ? readForm(form, { ...fields, secondPersonAbove: amount.value }) : amount;
}

/** The guild's settings, and the kinds of goods it sells. */
export async function guildPages(app: App): Promise<void> {
  app.get("/guild", chair, async (request, reply) => {
    const guild = await app.parts.db.guild.findFirstOrThrow();
    const values = {
      ...guild,
      tagLength: String(guild.tagLength),
      version: String(guild.version),
      showMemberName: guild.showMemberName ? "yes" : undefined,
      secondPersonAbove:
        guild.secondPersonAbove === null
          ? ""
          : amountText(Number(guild.secondPersonAbove), guild.currency),
    };
    return reply.page("guild/guild", await guildPage(request, values));
  });

  app.post("/guild", chair, async (request, reply) => {
    const read = readGuild(request.body, await app.parts.db.guild.findFirstOrThrow());
    const edited = read.ok ? await editGuild(request.deed(), read.value) : read;
    if (!edited.ok) {
      const page = await guildPage(request, request.body, edited.problem);
      return reply.page("guild/guild", page, edited.problem.status);
    }
    const renumbered = edited.value.renumbered
      ? " Member numbers have changed with the length of the tags."
      : "";
    return reply.seeOther("/guild", { kind: "good", text: `The change is kept.${renumbered}` });
  });

  await app.register(guildLabelPages);
  await app.register(kindPages);
}

async function guildPage(request: Request, values: unknown, problem?: Problem) {
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const inUse =
    (await db.item.findFirst({ select: { id: true } })) ??
    (await db.tillSession.findFirst({ select: { id: true } }));
  return {
    title: "The guild",
    places: guildPlaces("/guild"),
    inUse: inUse !== null,
    fixed: [
      { label: "Currency", value: guild.currency },
      { label: "Length of tag numbers", value: `${guild.tagLength} digits` },
    ],
    currencies: currencies.map(({ code }) => ({ value: code, label: code })),
    values,
    problem,
  };
}

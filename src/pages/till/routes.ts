import { z } from "zod";
import { openTill } from "../../actions/open-till.ts";
import type { OpeningInput } from "../../contract/till.ts";
import { readTill, type TillRead, workingTills } from "../../database/tills.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { ok, type Problem, type Result } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { whenText } from "../format.ts";
import { readForm } from "../read-form.ts";
import { unsentText } from "../sales/till-row.ts";
import { wantId } from "../want-id.ts";
import { countFields, readCash, withoutCount } from "./count-fields.ts";

type WithTill = { Params: { tillId: string } };

/** Beside the count there is nothing else in this form. */
const form = z.strictObject({});

/** The tills: which ones there are, opening one with its float, and the till itself. */
export async function tillPages(app: App): Promise<void> {
  const sells = { config: { access: ["cashier", "chair"] as const } };

  app.get("/till", sells, async (_request, reply) => {
    const guild = await app.parts.db.guild.findFirstOrThrow();
    const tills = (await workingTills(app.parts.db)).map((till) => ({
      number: till.number,
      name: till.name,
      sale: till.sale.name,
      returnsOnly: !allows(till.sale.stage, "sell"),
      href: `/till/${till.id}`,
      openText: till.open
        ? `Open since ${whenText(till.open.at, guild)}, by ${till.open.by}`
        : undefined,
    }));
    return reply.page("till/tills", { title: "Tills", tills });
  });

  app.get<WithTill>("/till/:tillId", sells, async (request, reply) => {
    const till = await tillOf(request);
    if (!till.open) {
      const guild = await app.parts.db.guild.findFirstOrThrow();
      return reply.page("till/open", openPage(till, guild));
    }
    if (!allows(till.sale.stage, "sell"))
      return reply.page("till/returns-only", { title: `Till ${till.number}`, ...links(till) });
    return reply.page("till/at-work", await atWork(app, till, till.open));
  });

  app.post<WithTill>("/till/:tillId/open", sells, async (request, reply) => {
    const till = await tillOf(request);
    const guild = await app.parts.db.guild.findFirstOrThrow();
    const read = readOpening(request.body, guild.currency);
    const opened = read.ok
      ? await openTill(request.deed(), { tillId: till.id, ...read.value })
      : read;
    if (!opened.ok && opened.problem.code !== "already-done")
      return reply.page(
        "till/open",
        openPage(till, guild, request.body, opened.problem),
        opened.problem.status,
      );
    // The till itself shows that it is open; words above it would stay there for every customer.
    if (opened.ok) return reply.seeOther(`/till/${till.id}`);
    return reply.seeOther(`/till/${till.id}`, {
      kind: "info",
      text: `Till ${till.number} was open already. Its float stays as it was.`,
    });
  });
}

export async function tillOf(request: Request): Promise<TillRead> {
  const { tillId } = request.params as { tillId: string };
  const till = await readTill(request.server.parts.db, wantId(tillId, "this till"));
  if (!till) throw notFound("this till");
  return till;
}

function readOpening(body: unknown, currency: string): Result<OpeningInput> {
  const read = readForm(form, withoutCount(body, "float"));
  const cash = readCash(body, currency, "float");
  if (!read.ok) return read;
  return cash.ok ? ok({ float: cash.value.sum, counts: cash.value.counts }) : cash;
}

/** The treasurer counts drawers and sells nothing: the way back leads to the books then. */
export function wayBack(request: Request, till: TillRead): { href: string; label: string } {
  const sells = request.who().roles.some((role) => role === "cashier" || role === "chair");
  return sells
    ? { href: `/till/${till.id}`, label: "Back to the till" }
    : { href: `/books/${till.sale.id}/drawers`, label: "Drawers of this sale" };
}

const links = (till: TillRead) => ({
  till: { number: till.number, name: till.name, sale: till.sale.name },
  receiptsHref: `/till/${till.id}/receipts`,
  cashHref: `/till/${till.id}/cash`,
  cashUpHref: `/till/${till.id}/cash-up`,
});

type Guild = Parameters<typeof countFields>[0];

const openPage = (till: TillRead, guild: Guild, values?: unknown, problem?: Problem) => ({
  countFields: countFields(guild),
  title: `Open till ${till.number}`,
  action: `/till/${till.id}/open`,
  returnsOnly: !allows(till.sale.stage, "sell"),
  values,
  problem,
  ...links(till),
});

/** An open till as people look at it from elsewhere: it sells on a device of its own. */
async function atWork(app: App, till: TillRead, open: NonNullable<TillRead["open"]>) {
  const { db } = app.parts;
  const guild = await db.guild.findFirstOrThrow();
  const device = await db.tillDevice.findUnique({ where: { tillId: till.id } });
  const seen = device?.lastSeenAt?.toISOString();
  return {
    title: `Till ${till.number}`,
    device: device?.name,
    facts: [
      { label: "Open since", value: `${whenText(open.at, guild)}, by ${open.by}` },
      ...(device ? [{ label: "Device", value: device.name }] : []),
      ...(seen ? [{ label: "Last seen", value: whenText(seen, guild) }] : []),
      ...(device
        ? [{ label: "Not sent yet, as it last said", value: unsentText(device.unsent) }]
        : []),
    ],
    ...links(till),
  };
}

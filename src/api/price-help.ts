import { z } from "zod";
import { keepWage } from "../actions/keep-wage.ts";
import {
  likePiecesQuery,
  likePiecesShown,
  priceHelpShape,
  priceHelpShown,
  wageShape,
} from "../contract/price-help.ts";
import { likePieces } from "../database/like-pieces.ts";
import { wageOf } from "../database/member-wage.ts";
import { type HelpRead, helpWithPrice } from "../database/price-help.ts";
import { orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { unitOf } from "../rules/currency.ts";
import { dayIn } from "../rules/day.ts";
import { costFigures } from "../rules/price/price-help.ts";
import { refusals, typed } from "./typed.ts";

const tags = ["bench"];
const mine = { access: "signed-in" as const };

/** Price help for one's own pieces; of other members only pooled figures are told. */
export async function priceHelpApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.post("/price-help", {
    // It only works out figures, so asking twice is the same as asking once.
    config: { ...mine, keyless: true },
    schema: {
      tags,
      summary: "Prices that bring the wanted pay, at every percentage that may come to hold",
      body: priceHelpShape,
      response: { 200: priceHelpShown, ...refusals },
    },
    handler: async (request) =>
      shown(orRefuse(await helpWithPrice(db, request.who().id, request.body))),
  });

  route.get("/price-help/like-pieces", {
    config: mine,
    schema: {
      tags,
      summary: "What like pieces sold for at the guild's settled sales, as pooled figures",
      querystring: likePiecesQuery,
      response: { 200: likePiecesShown, ...refusals },
    },
    handler: async (request) => {
      const { currency, timeZone } = await db.guild.findFirstOrThrow();
      const now = { unit: unitOf(currency), day: dayIn(app.now(), timeZone) };
      return { pool: await likePieces(db, request.who().id, request.query, now) };
    },
  });

  route.get("/me/wage", {
    config: mine,
    schema: {
      tags,
      summary: "What I would like an hour to bring; null when nothing is kept",
      response: { 200: z.object({ wage: z.int().nullable() }), ...refusals },
    },
    handler: async (request) => ({ wage: await wageOf(db, request.who().id) }),
  });

  route.put("/me/wage", {
    config: mine,
    schema: {
      tags,
      summary: "Keep what I would like an hour to bring, or forget it with null",
      body: wageShape,
      response: { 200: z.object({ kept: z.boolean() }), ...refusals },
    },
    handler: async (request) => orRefuse(await keepWage(request.deed(), request.body.wage)),
  });
}

const shown = ({ sale, scene, help }: HelpRead) => ({
  sale: sale && { id: sale.id, name: sale.name },
  step: scene.prices.priceStep,
  cost: costFigures(help.cost),
  rows: help.rows.map(({ moreMinutes: _, ...row }) => row),
  ...{ warnings: help.warnings, notes: help.notes, shifts: help.shifts },
});

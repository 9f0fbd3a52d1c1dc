import { z } from "zod";
import { answerCautions } from "../actions/answer-cautions.ts";
import { shownItemShape } from "../contract/item.ts";
import { previewShape, questionsShape, shownLabelShape } from "../contract/label-shown.ts";
import { optionalLine } from "../contract/text.ts";
import { findLabel } from "../database/labels.ts";
import { orRefuse } from "../plugins/errors.ts";
import { seenItem } from "../plugins/seen-items.ts";
import type { App } from "../plugins/types.ts";
import { fibreList } from "../rules/fibre.ts";
import { questionsFor } from "../rules/labels/cautions/cautions.ts";
import { familyOf } from "../rules/labels/fibres.ts";
import { packs } from "../rules/labels/packs/index.ts";
import { labelKindOf, previewLabel } from "./label-preview.ts";
import { refusals, typed } from "./typed.ts";

const tags = ["labels"];
const signedIn = { access: "signed-in" as const };
const itemParams = z.object({ id: z.uuid() });

export async function labelApi(app: App): Promise<void> {
  const route = typed(app);

  route.post("/labels/preview", {
    // Nothing is kept, so sending it again does no harm and needs no key.
    config: { ...signedIn, keyless: true },
    schema: {
      tags,
      summary:
        "Work out a label for any fibres: text, symbols, reasons and sources; nothing is kept",
      body: previewShape,
      response: { 200: shownLabelShape, ...refusals },
    },
    handler: async (request) =>
      orRefuse(await previewLabel(app.parts.db, request.who(), request.body)),
  });

  route.get("/items/:id/label", {
    config: signedIn,
    schema: {
      tags,
      summary: "What the label of an item says now, and why",
      params: itemParams,
      response: { 200: shownLabelShape, ...refusals },
    },
    handler: async (request) => {
      const { id } = await seenItem(app.parts.db, request.who(), request.params.id);
      return findLabel(app.parts.db, id);
    },
  });

  route.put("/items/:id/answers", {
    config: signedIn,
    schema: {
      tags,
      summary: "Answer the caution questions that an item's kind calls for",
      params: itemParams,
      body: questionsShape,
      response: { 200: shownItemShape, ...refusals },
    },
    handler: async (request) => {
      const given = { ...request.body, itemId: request.params.id };
      orRefuse(await answerCautions(request.deed(), given, app.now()));
      return seenItem(app.parts.db, request.who(), request.params.id);
    },
  });

  await app.register(labelLists);
}

const choice = z.object({ value: z.string(), words: z.string(), outcome: z.string() });

/** What there is to choose from: rules of countries, fibres, and questions. */
async function labelLists(app: App): Promise<void> {
  const route = typed(app);

  route.get("/labels/packs", {
    config: signedIn,
    schema: {
      tags,
      summary: "The countries whose label rules are kept as data, with their languages and sources",
      response: {
        200: z.object({
          items: z.array(
            z.object({
              code: z.string(),
              name: z.string(),
              law: z.string(),
              languages: z.array(z.string()),
              together: z.boolean(),
              symbols: z.enum(["astm", "iso"]),
            }),
          ),
        }),
        ...refusals,
      },
    },
    handler: async () => ({
      items: packs.map(({ code, name, law, languages, together, care }) => ({
        ...{ code, name, law, together },
        languages: [...languages],
        symbols: care.symbols,
      })),
    }),
  });

  route.get("/labels/fibres", {
    config: signedIn,
    schema: {
      tags,
      summary: "The fibres that can be named, by code",
      response: {
        200: z.object({
          items: z.array(z.object({ code: z.string(), name: z.string(), family: z.string() })),
        }),
        ...refusals,
      },
    },
    handler: async () => ({
      items: fibreList.map(({ code, name }) => ({ code, name, family: familyOf(code) })),
    }),
  });

  route.get("/labels/questions", {
    config: signedIn,
    schema: {
      tags,
      summary: "The caution questions that a kind of goods calls for",
      querystring: z.object({ kind: optionalLine(40) }),
      response: {
        200: z.object({
          items: z.array(
            z.object({ code: z.string(), question: z.string(), options: z.array(choice) }),
          ),
        }),
        ...refusals,
      },
    },
    handler: async (request) => {
      const kind = await labelKindOf(app.parts.db, request.query.kind);
      const items = questionsFor(kind).map(({ code, question, options }) => ({
        ...{ code, question },
        options: options.map(({ value, words, outcome }) => ({ value, words, outcome })),
      }));
      return { items };
    },
  });
}

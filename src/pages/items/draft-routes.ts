import { v7 } from "uuid";
import { discardDraft, keepDraft } from "../../actions/drafts/keep-draft.ts";
import { draftShape, type KeptDraft } from "../../contract/draft.ts";
import { findDraft } from "../../database/drafts.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Notice } from "../../plugins/view-base.ts";
import { momentText } from "../../rules/moment.ts";
import type { Problem, Result } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { isId, wantId } from "../want-id.ts";
import { shownAgain } from "./agreement.ts";
import { formPage, noSale } from "./entry-routes.ts";
import { type Fields, textOf } from "./fields.ts";
import { manyPage } from "./many-routes.ts";
import { type Scene, sceneOf } from "./scene.ts";
import type { GuildWords } from "./words.ts";

const mine = { config: { access: "signed-in" as const } };

/** Keeping the form of an entry as it is typed, without entering anything. */
export async function draftPages(app: App): Promise<void> {
  app.post("/items/drafts", mine, async (request, reply) => {
    const body = request.body as Fields;
    const scene = await sceneOf(request, body);
    if (!scene) return noSale(reply);
    const kept = await keepForm(request, scene, body);
    if (!kept.ok) {
      const values = shownAgain(body, scene);
      return isMany(body)
        ? manyPage(request, reply, scene, values, kept.problem)
        : formPage(request, reply, scene, { values, problem: inSummary(kept.problem) });
    }
    const guild = await app.parts.db.guild.findFirstOrThrow();
    return reply.seeOther(`/items?sale=${scene.sale.id}`, keptWords(kept.value, guild));
  });

  app.post<{ Params: { id: string } }>(
    "/items/drafts/:id/discard",
    mine,
    async (request, reply) => {
      const id = wantId(request.params.id, "this draft");
      const draft = await findDraft(app.parts.db, request.who().id, id);
      if (!draft) throw notFound("this draft");
      await discardDraft(keepingOf(request), id);
      return reply.seeOther(`/items?sale=${draft.saleId}`, {
        kind: "good",
        text: "The draft is discarded.",
      });
    },
  );
}

const isMany = (body: Fields): boolean => textOf(body, "draftForm") === "many";

/** Too much for a draft is no fault of one field. */
const inSummary = (problem: Problem): Problem => ({ ...problem, errors: [] });

const keepingOf = (request: Request) => ({
  db: request.server.parts.db,
  memberId: request.who().id,
  now: request.server.now(),
});

const notTyped = new Set(["_csrf", "_key", "draft", "draftVersion", "draftForm", "go", "sale"]);

async function keepForm(request: Request, scene: Scene, body: Fields): Promise<Result<KeptDraft>> {
  const typed = Object.entries(body).filter(([name]) => !notTyped.has(name));
  const read = readForm(draftShape, {
    form: isMany(body) ? "many" : "one",
    saleId: scene.sale.id,
    fields: Object.fromEntries(typed),
    version: Number(/^\d{1,9}$/.exec(textOf(body, "draftVersion"))?.[0] ?? 0),
  });
  if (!read.ok) return { ok: false, problem: inSummary(read.problem) };
  const given = textOf(body, "draft");
  const keeping = keepingOf(request);
  const kept = await keepDraft(keeping, isId(given) ? given : v7(), read.value);
  // From a page that stood open while its draft was entered: what is typed there is still kept.
  if (kept.ok || kept.problem.code !== "not-found") return kept;
  return keepDraft(keeping, v7(), { ...read.value, version: 0 });
}

function keptWords({ typedAt, beside }: KeptDraft, guild: GuildWords): Notice {
  if (!beside)
    return {
      kind: "good",
      text: "Kept as a draft. Go on with it here, under Drafts, at any time.",
    };
  const at = (moment: string) => momentText(new Date(moment), guild.locale, guild.timeZone);
  const order = beside.newer ? "later" : "earlier";
  return {
    kind: "warn",
    title: "This draft was changed in another place as well",
    text: `There it was kept at ${at(beside.typedAt)}, ${order} than here (${at(typedAt)}). Both are kept, under Drafts.`,
  };
}

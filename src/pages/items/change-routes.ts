import { z } from "zod";
import { allowMarkdown } from "../../actions/allow-markdown.ts";
import { copyItem } from "../../actions/copy-item.ts";
import { editItem } from "../../actions/edit-item.ts";
import { putBackItem } from "../../actions/put-back-item.ts";
import { withdrawItem } from "../../actions/withdraw-item.ts";
import type { ShownItem } from "../../database/items.ts";
import { findSale } from "../../database/sales.ts";
import { notFound, orRefuse } from "../../plugins/errors.ts";
import { seenItem } from "../../plugins/seen-items.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { showTag } from "../../rules/tag-number.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { agreedTo } from "./agreement.ts";
import { valuesOf, withoutLoose } from "./entry-routes.ts";
import { type Fields, textOf } from "./fields.ts";
import { readItem } from "./form.ts";
import { formLists, type Scene, sceneOf } from "./scene.ts";

type WithId = { Params: { id: string } };
const mine = { config: { access: "signed-in" as const } };
/** "yes 3": the wish, and the version of the item that was on the screen. */
const markdownForm = z
  .object({ markdown: z.string().regex(/^(yes|no) \d{1,9}$/, "Use the button of the page") })
  .transform(({ markdown }) => markdown.split(" "))
  .transform(([wish, version]) => ({ allowed: wish === "yes", version: Number(version) }));

/** Changing an item before it comes to the desk. */
export async function changePages(app: App): Promise<void> {
  app.get<WithId>("/items/:id/edit", mine, async (request, reply) => {
    const { item, scene } = await itemScene(request);
    return editPage(request, reply, { item, scene, values: valuesOf(item, scene.currency) });
  });

  app.post<WithId>("/items/:id", mine, async (request, reply) => {
    const { item, scene } = await itemScene(request);
    const body = request.body as Fields;
    const edited = await edit(request, scene, item, body);
    if (!edited.ok)
      return editPage(request, reply, { item, scene, values: body, problem: edited.problem });
    return reply.seeOther(`/items/${item.id}`, {
      kind: "good",
      text: "Saved. If its tag is printed already, print it again.",
    });
  });

  app.post<WithId>("/items/:id/copies", mine, async (request, reply) => {
    const id = wantId(request.params.id, "this item");
    const given = { itemId: id, agreementVersion: agreedTo(request.body as Fields) };
    const copied = await copyItem(request.deed(), given, app.now());
    // What the sale does not take as it is can be put right in the form of a new entry.
    if (!copied.ok && copied.problem.code === "invalid-input")
      return reply.seeOther(`/items/new?copy=${id}`, { kind: "warn", text: copied.problem.detail });
    const entered = orRefuse(copied);
    return reply.seeOther(`/items/${entered.id}`, {
      kind: "good",
      title: `Copied as ${showTag(entered.tag)}`,
      text: "Change what is different about this piece, if anything.",
    });
  });

  app.post<WithId>("/items/:id/markdown", mine, async (request, reply) => {
    const id = wantId(request.params.id, "this item");
    const read = readForm(markdownForm, request.body);
    const given = { itemId: id, ...orRefuse(read) };
    orRefuse(await allowMarkdown(request.deed(), given));
    const text = given.allowed
      ? "On the last day it may be sold for less."
      : "It keeps its price on the last day.";
    return reply.seeOther(`/items/${id}`, { kind: "good", text });
  });

  app.post<WithId>("/items/:id/withdrawal", mine, async (request, reply) => {
    const id = wantId(request.params.id, "this item");
    orRefuse(await withdrawItem(request.deed(), { itemId: id }, app.now()));
    return reply.seeOther(`/items/${id}`, {
      kind: "good",
      text: "Withdrawn. If that was a mistake, put it back below.",
    });
  });

  app.post<WithId>("/items/:id/withdrawal/undo", mine, async (request, reply) => {
    const id = wantId(request.params.id, "this item");
    orRefuse(await putBackItem(request.deed(), { itemId: id }));
    return reply.seeOther(`/items/${id}`, { kind: "good", text: "It is back on the list." });
  });
}

async function itemScene(request: Request): Promise<{ item: ShownItem; scene: Scene }> {
  const id = wantId((request.params as { id: string }).id, "this item");
  const { db } = request.server.parts;
  const item = await seenItem(db, request.who(), id);
  const sale = await findSale(db, item.saleId);
  const given = { sale: item.saleId, member: String(item.memberNumber) };
  const scene = sale && (await sceneOf(request, given));
  if (!scene) throw notFound("this item");
  return { item, scene };
}

async function edit(request: Request, scene: Scene, { id, label }: ShownItem, body: Fields) {
  const item = readItem(body, { ...scene.sale, currency: scene.currency }, label);
  if (!item.ok) return item;
  const version = Number(/^\d{1,9}$/.exec(textOf(body, "version"))?.[0] ?? 0);
  const given = { itemId: id, version, item: item.value };
  return editItem(request.deed(), given, request.server.now());
}

interface EditPage {
  item: ShownItem;
  scene: Scene;
  values: object;
  problem?: Problem;
}

async function editPage(request: Request, reply: Reply, page: EditPage) {
  const { item, scene, values, problem } = page;
  const data = {
    ...(await formLists(request, scene, { values, problem }, item.kind)),
    title: `Change ${item.shownTag}`,
    shownTag: item.shownTag,
    saleName: scene.sale.name,
    itemHref: `/items/${item.id}`,
    closedText: problem ? undefined : scene.closed?.detail,
    values,
    problem: problem && withoutLoose(problem),
  };
  return reply.page("items/edit", data, problem?.status ?? 200);
}

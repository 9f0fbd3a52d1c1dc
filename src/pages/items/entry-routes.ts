import { enterItem } from "../../actions/enter-item.ts";
import { findUsual } from "../../database/usual-pieces.ts";
import { notFound } from "../../plugins/errors.ts";
import { seenItem } from "../../plugins/seen-items.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { amountText } from "../../rules/currency.ts";
import type { ItemDetails } from "../../rules/item.ts";
import type { Problem } from "../../rules/problem.ts";
import { showTag } from "../../rules/tag-number.ts";
import { isId } from "../want-id.ts";
import { agreedTo, shownAgain, withAgreement } from "./agreement.ts";
import { draftForm, draftIdOf, draftValues } from "./draft-fields.ts";
import { fibreValues } from "./fibre-rows.ts";
import { type Fields, textOf } from "./fields.ts";
import { readItem } from "./form.ts";
import { labelValues } from "./label-form.ts";
import { questionsPath } from "./questions-path.ts";
import { formLists, type Scene, sceneOf } from "./scene.ts";

const mine = { config: { access: "signed-in" as const } };

/** Entering one item: a form, and the tag number it gives. */
export async function entryPages(app: App): Promise<void> {
  app.get("/items/new", mine, async (request, reply) => {
    const query = request.query as Fields;
    const draft = await draftValues(request, query);
    const scene = await sceneOf(request, draft ?? query);
    if (!scene) return noSale(reply);
    if (draft) return formPage(request, reply, scene, { values: shownAgain(draft, scene) });
    return formPage(request, reply, scene, { values: await startOf(request, scene) });
  });

  app.post("/items", mine, async (request, reply) => {
    const body = request.body as Fields;
    const scene = await sceneOf(request, body);
    if (!scene) return noSale(reply);
    const entered = await enter(request, scene, body);
    if (!entered.ok)
      return formPage(request, reply, scene, {
        values: shownAgain(body, scene),
        problem: withAgreement(entered.problem, body, scene),
      });
    const another = textOf(body, "go") === "another";
    const next = await questionsPath(app.parts.db, entered.value.id, another);
    return reply.seeOther(next ?? (another ? newPath(scene) : listPath(scene)), {
      kind: "good",
      title: `Entered as ${showTag(entered.value.tag)}`,
      text: "This number belongs to the piece for good. Print its tag when you are ready.",
    });
  });
}

/** What a new entry starts from: another item, a usual piece, or at most a kind. */
async function startOf(request: Request, scene: Scene): Promise<Fields> {
  const query = request.query as Fields;
  const { db } = request.server.parts;
  const copy = textOf(query, "copy");
  if (isId(copy)) return valuesOf(await seenItem(db, request.who(), copy), scene.currency);
  return (await usualStart(request, scene)) ?? { kind: textOf(query, "kind") };
}

/** The fields of a usual piece that the address names; somebody else's names nothing. */
export async function usualStart(request: Request, scene: Scene): Promise<Fields | undefined> {
  const id = textOf(request.query as Fields, "usual");
  if (id === "") return undefined;
  const own = isId(id) && (await findUsual(request.server.parts.db, request.who().id, id));
  if (!own) throw notFound("this usual piece");
  const open = { colours: "", quantity: 1, donated: false, markdown: false, version: 1 };
  return valuesOf({ ...own, ...open }, scene.currency);
}

async function enter(request: Request, scene: Scene, body: Fields) {
  const item = readItem(body, { ...scene.sale, currency: scene.currency });
  if (!item.ok) return item;
  const { sale, memberId } = scene;
  const given = {
    ...{ saleId: sale.id, memberId, item: item.value },
    ...{ agreementVersion: agreedTo(body), draftId: draftIdOf(body) },
  };
  return enterItem(request.deed(), given, request.server.now());
}

export const placeQuery = ({ sale, memberNumber }: Scene): string =>
  `sale=${sale.id}${memberNumber === undefined ? "" : `&member=${memberNumber}`}`;

export const newPath = (scene: Scene): string => `/items/new?${placeQuery(scene)}`;

/** After the work: one's own list, or the desk's list of the member who was helped. */
export const listPath = ({ sale, memberNumber }: Scene): string =>
  memberNumber === undefined
    ? `/items?sale=${sale.id}`
    : `/desk/members/${memberNumber}?sale=${sale.id}`;

export const noSale = (reply: Reply) =>
  reply.page("items/no-sale", { title: "No sale is open for entries" });

export async function formPage(
  request: Request,
  reply: Reply,
  scene: Scene,
  { values, problem }: { values: Fields; problem?: Problem },
) {
  const data = {
    ...(await formLists(request, scene, { values, problem })),
    ...sceneWords(scene),
    title: "Enter a piece",
    values,
    problem: problem && withoutLoose(problem),
    closedText: problem ? undefined : scene.closed?.detail,
    place: placeQuery(scene),
    draftForm: draftForm(request, values, problem !== undefined),
    scripts: ["drafts.js"],
  };
  return reply.page("items/new", data, problem?.status ?? 200);
}

/** What the template of an entry shows about its sale and member. */
export const sceneWords = (scene: Scene) => ({
  saleId: scene.sale.id,
  saleName: scene.sale.name,
  memberNumber: scene.memberNumber,
  agreement: scene.agreement,
  keeps: scene.keeps,
  listHref: listPath(scene),
});

/** A limit for all items is no field of the form: its words stand in the summary alone. */
export const withoutLoose = (problem: Problem): Problem => ({
  ...problem,
  errors: problem.errors.filter(({ field }) => field !== "items"),
});

type Started = ItemDetails & { version: number };

/** An item as it stands in the fields of its form. */
export function valuesOf(item: Started, currency: string): Record<string, string | string[]> {
  const { kind, description, technique, size, colours } = item;
  return {
    ...{ kind, description, technique, size, colours },
    ...Object.fromEntries(fibreValues(item.fibres, "fibres")),
    ...labelValues(item.label),
    price: amountText(item.price, currency),
    quantity: String(item.quantity),
    piecesInSet: String(item.piecesInSet),
    donated: item.donated ? "yes" : "",
    markdown: item.markdown ? "yes" : "",
    version: String(item.version),
  };
}

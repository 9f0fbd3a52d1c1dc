import { enterItems } from "../../actions/enter-items.ts";
import { mostItemsAtOnce } from "../../contract/item.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem, Result } from "../../rules/problem.ts";
import { showTag } from "../../rules/tag-number.ts";
import { agreedTo, shownAgain, withAgreement } from "./agreement.ts";
import { draftForm, draftIdOf, draftValues } from "./draft-fields.ts";
import { listPath, newPath, noSale, sceneWords, usualStart, withoutLoose } from "./entry-routes.ts";
import { type Fields, textOf } from "./fields.ts";
import { wrongFields } from "./form.ts";
import { firstRows, isEmptyRow, readItems, rowCountOf, rowErrors } from "./many-form.ts";
import { formLists, type Scene, sceneOf } from "./scene.ts";

const mine = { config: { access: "signed-in" as const } };

/** Entering several pieces that have much in common. */
export async function manyPages(app: App): Promise<void> {
  app.get("/items/many", mine, async (request, reply) => {
    const query = request.query as Fields;
    const draft = await draftValues(request, query);
    const scene = await sceneOf(request, draft ?? query);
    if (!scene) return noSale(reply);
    if (draft) return manyPage(request, reply, scene, shownAgain(draft, scene));
    return manyPage(request, reply, scene, (await usualStart(request, scene)) ?? {});
  });

  app.post("/items/many", mine, async (request, reply) => {
    const body = request.body as Fields;
    const scene = await sceneOf(request, body);
    if (!scene) return noSale(reply);
    if (textOf(body, "go") === "rows")
      return manyPage(request, reply, scene, shownAgain(body, scene));
    const entered = await enterMany(request, scene, body);
    if (!entered.ok) {
      const problem = withAgreement(entered.problem, body, scene);
      return manyPage(request, reply, scene, shownAgain(body, scene), problem);
    }
    const numbers = entered.value.map(({ tag }) => showTag(tag)).join(", ");
    const count = entered.value.length;
    const notice = {
      kind: "good" as const,
      title: count === 1 ? "1 piece entered" : `${count} pieces entered`,
      text: numbers,
    };
    const another = textOf(body, "go") === "another";
    return reply.seeOther(
      another ? newPath(scene).replace("new", "many") : listPath(scene),
      notice,
    );
  });
}

async function enterMany(
  request: Request,
  scene: Scene,
  body: Fields,
): Promise<Result<{ tag: string }[]>> {
  const read = readItems(body, { ...scene.sale, currency: scene.currency });
  if (!read.ok) return read;
  const given = {
    saleId: scene.sale.id,
    memberId: scene.memberId,
    items: read.value.items,
    agreementVersion: agreedTo(body),
    draftId: draftIdOf(body),
  };
  const entered = await enterItems(request.deed(), given, request.server.now());
  if (entered.ok) return entered;
  const errors = rowErrors(entered.problem.errors, read.value, body);
  const first = wrongFields(errors);
  return {
    ok: false,
    problem: { ...entered.problem, errors: first.ok ? [] : first.problem.errors },
  };
}

/** On a phone so many empty rows stand open; the others come when they are asked for. */
const openOnPhone = 5;

const columns = [
  { name: "colours", label: "Colours", most: 60 },
  { name: "description", label: "Other description", most: 60 },
  { name: "size", label: "Other size", most: 40 },
  { name: "price", label: "Other price", mode: "decimal" },
  { name: "quantity", label: "How many", mode: "numeric" },
];

export async function manyPage(
  request: Request,
  reply: Reply,
  scene: Scene,
  values: Fields,
  problem?: Problem,
) {
  const rowCount = rowCountOf(values);
  const data = {
    ...(await formLists(request, scene, { values, problem })),
    ...sceneWords(scene),
    title: "Enter several pieces",
    scripts: ["many.js", "drafts.js"],
    columns,
    rows: Array.from({ length: rowCount }, (_, row) => ({
      number: row + 1,
      spare: rowCount === firstRows && row >= openOnPhone && isEmptyRow(values, row),
      cells: columns.map((column) => ({ ...column, field: `rows.${row}.${column.name}` })),
    })),
    rowCount,
    mayAddRows: rowCount < mostItemsAtOnce,
    values,
    problem: problem && withoutLoose(problem),
    closedText: problem ? undefined : scene.closed?.detail,
    oneHref: newPath(scene),
    draftForm: draftForm(request, values, problem !== undefined),
  };
  return reply.page("items/many", data, problem?.status ?? 200);
}

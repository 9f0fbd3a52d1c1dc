import { enterItems } from "../../actions/enter-items.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem, Result } from "../../rules/problem.ts";
import { showTag } from "../../rules/tag-number.ts";
import { agreedTo, shownAgain, withAgreement } from "./agreement.ts";
import { draftForm, draftIdOf, draftValues } from "./draft-fields.ts";
import { listPath, newPath, noSale, sceneWords, withoutLoose } from "./entry-routes.ts";
import { type Fields, textOf } from "./fields.ts";
import { wrongFields } from "./form.ts";
import { manyRows, readItems, rowErrors } from "./many-form.ts";
import { formLists, type Scene, sceneOf } from "./scene.ts";

const mine = { config: { access: "signed-in" as const } };

/** Entering several pieces that have much in common. */
export async function manyPages(app: App): Promise<void> {
  app.get("/items/many", mine, async (request, reply) => {
    const query = request.query as Fields;
    const draft = await draftValues(request, query);
    const scene = await sceneOf(request, draft ?? query);
    if (!scene) return noSale(reply);
    return manyPage(request, reply, scene, draft ? shownAgain(draft, scene) : {});
  });

  app.post("/items/many", mine, async (request, reply) => {
    const body = request.body as Fields;
    const scene = await sceneOf(request, body);
    if (!scene) return noSale(reply);
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

const rows = manyRows.map((row) => ({ number: row + 1, name: `rows.${row}` }));
/** So many rows stand open at once; the others wait behind one line, to keep a phone's page short. */
const openRows = 5;

export async function manyPage(
  request: Request,
  reply: Reply,
  scene: Scene,
  values: Fields,
  problem?: Problem,
) {
  const data = {
    ...(await formLists(request, scene, { values, problem })),
    ...sceneWords(scene),
    title: "Enter several pieces",
    rows: rows.slice(0, openRows),
    moreRows: rows.slice(openRows),
    moreOpen: Object.keys(values).some(
      (name) => /^rows\.[5-7]\./.test(name) && textOf(values, name) !== "",
    ),
    values,
    problem: problem && withoutLoose(problem),
    closedText: problem ? undefined : scene.closed?.detail,
    oneHref: newPath(scene),
    draftForm: draftForm(request, values, problem !== undefined),
    scripts: ["drafts.js"],
  };
  return reply.page("items/many", data, problem?.status ?? 200);
}

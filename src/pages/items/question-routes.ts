import { answerCautions } from "../../actions/answer-cautions.ts";
import { clothShape } from "../../contract/label.ts";
import type { ShownItem } from "../../database/items.ts";
import { notFound } from "../../plugins/errors.ts";
import { seenItem } from "../../plugins/seen-items.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { questionsFor } from "../../rules/labels/cautions/cautions.ts";
import { type Cloth, surfaceQuestion } from "../../rules/labels/cautions/flame.ts";
import { type FieldError, ok, type Problem, type Result } from "../../rules/problem.ts";
import { wantId } from "../want-id.ts";
import { clothFields, clothValues } from "./cloth-fields.ts";
import { type Fields, textOf } from "./fields.ts";
import { wrongFields } from "./form.ts";
import { plainSource } from "./label-panel.ts";

type WithId = { Params: { id: string } };
const mine = { config: { access: "signed-in" as const } };

/** The next step after an entry: what its kind of goods calls for, and nothing else. */
export async function questionPages(app: App): Promise<void> {
  app.get<WithId>("/items/:id/questions", mine, async (request, reply) => {
    const item = await askedItem(request);
    const answers = Object.entries(item.label.answers).map(([code, value]) => [
      `answers.${code}`,
      value,
    ]);
    const { jurisdiction } = await app.parts.db.guild.findFirstOrThrow();
    const units = jurisdiction === "us" ? { "cloth.weightUnit": "oz", "cloth.unit": "in" } : {};
    const values = {
      ...{ ...units, ...Object.fromEntries(answers) },
      ...clothValues(item.label.cloth),
    };
    return questionsPage(request, reply, item, { values: { ...values, version: item.version } });
  });

  app.post<WithId>("/items/:id/questions", mine, async (request, reply) => {
    const item = await askedItem(request);
    const body = request.body as Fields;
    const cloth = readCloth(body, item);
    const version = Number(/^\d{1,9}$/.exec(textOf(body, "version"))?.[0] ?? 0);
    const given = { itemId: item.id, version, answers: answersIn(body, item) };
    const answered = cloth.ok
      ? await answerCautions(request.deed(), { ...given, cloth: cloth.value }, app.now())
      : cloth;
    if (!answered.ok)
      return questionsPage(request, reply, item, { values: body, problem: answered.problem });
    const another = textOf(body, "next") === "another";
    return reply.seeOther(
      another ? `/items/new?sale=${item.saleId}${forMember(request, item)}` : `/items/${item.id}`,
      { kind: "good", text: "Your answers are kept. The label below goes by them." },
    );
  });
}

const forMember = (request: Request, item: ShownItem): string =>
  item.memberId === request.who().id ? "" : `&member=${item.memberNumber}`;

async function askedItem(request: Request): Promise<ShownItem> {
  const id = wantId((request.params as { id: string }).id, "this item");
  const item = await seenItem(request.server.parts.db, request.who(), id);
  if (questionsFor(item.labelKind).length === 0) throw notFound("questions about this piece");
  return item;
}

/** Only what was chosen: a question may be left open, and the desk then asks it. */
const answersIn = (body: Fields, item: ShownItem): Record<string, string> =>
  Object.fromEntries(
    questionsFor(item.labelKind)
      .map(({ code }) => [code, textOf(body, `answers.${code}`)] as const)
      .filter(([, value]) => value !== ""),
  );

function readCloth(body: Fields, item: ShownItem): Result<Cloth | null> {
  const typed = clothFields(body);
  if (!typed || !asksSurface(item))
    return ok(item.label.cloth && !asksSurface(item) ? item.label.cloth : null);
  const read = clothShape.safeParse(typed);
  if (read.success) return ok(read.data);
  const names: Record<string, string> = { milligrams: "weight" };
  const errors = read.error.issues.map(({ path, message }): FieldError => {
    const name = String(path[0]);
    return {
      field: `cloth.${names[name] ?? name}`,
      message: /small|>=|more than/i.test(message)
        ? "Type a number above zero, or leave all three empty."
        : message,
    };
  });
  return wrongFields(errors);
}

const asksSurface = (item: ShownItem): boolean =>
  questionsFor(item.labelKind).includes(surfaceQuestion);

async function questionsPage(
  request: Request,
  reply: Reply,
  item: ShownItem,
  { values, problem }: { values: object; problem?: Problem },
) {
  const questions = questionsFor(item.labelKind).map(({ code, question, options, rule }) => ({
    name: `answers.${code}`,
    legend: question,
    hint: rule.words,
    source: plainSource(rule.source),
    options: options.map(({ value, words }) => ({ value, label: words })),
  }));
  const data = {
    title: `Questions about ${item.shownTag}`,
    ...{ item, questions, values, problem, asksCloth: asksSurface(item) },
    next: textOf(request.query as Fields, "next") || textOf((request.body ?? {}) as Fields, "next"),
    action: `/items/${item.id}/questions`,
    itemHref: `/items/${item.id}`,
  };
  return reply.page("items/questions", data, problem?.status ?? 200);
}

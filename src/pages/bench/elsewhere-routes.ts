import {
  changeElsewhere,
  noteElsewhere,
  takeBackElsewhere,
} from "../../actions/bench/keep-elsewhere.ts";
import { type ElsewhereRead, findElsewhere } from "../../database/sold/elsewhere.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { guildWords } from "../books/scene.ts";
import { readFibreRows } from "../items/fibre-rows.ts";
import type { Fields } from "../items/fields.ts";
import { versionOf } from "../shifts/form.ts";
import { wantId } from "../want-id.ts";
import { elsewhereValues, formField, readElsewhere } from "./elsewhere-form.ts";
import { elsewherePage, formPage, newValues, pickPage } from "./elsewhere-page.ts";
import { mine } from "./sold-scene.ts";

const path = "/bench/elsewhere";
type WithId = { Params: { id: string } };

/** What a member sold elsewhere: noted, put right and taken back by that member alone. */
export async function elsewherePages(app: App): Promise<void> {
  app.get(path, mine, async (request, reply) =>
    reply.page("bench/elsewhere", await elsewherePage(request)),
  );

  app.get(`${path}/pick`, mine, async (request, reply) =>
    reply.page("bench/elsewhere-pick", await pickPage(request)),
  );

  app.get(`${path}/new`, mine, async (request, reply) =>
    newPage(request, reply, await newValues(request)),
  );

  app.post(path, mine, async (request, reply) => {
    const fields = request.body as Fields;
    const read = readElsewhere(fields, await guildWords(request));
    const done = read.ok ? await noteElsewhere(request.deed(), read.value) : read;
    if (!done.ok) return newPage(request, reply, fields, inForm(done.problem, fields));
    return reply.seeOther(path, { kind: "good", text: "The sale is noted." });
  });

  app.get<WithId>(`${path}/:id`, mine, async (request, reply) => {
    const note = await noteOf(request);
    const { currency } = await guildWords(request);
    return changePage(request, reply, note, elsewhereValues(note, currency));
  });

  app.post<WithId>(`${path}/:id`, mine, async (request, reply) => {
    const note = await noteOf(request);
    const fields = request.body as Fields;
    const read = readElsewhere(fields, await guildWords(request));
    const change = { version: versionOf(fields) };
    const done = read.ok
      ? await changeElsewhere(request.deed(), note.id, { ...read.value, ...change })
      : read;
    if (!done.ok) return changePage(request, reply, note, fields, inForm(done.problem, fields));
    return reply.seeOther(path, { kind: "good", text: "The change is kept." });
  });

  app.post<WithId>(`${path}/:id/taking-back`, mine, async (request, reply) => {
    const note = await noteOf(request);
    const version = versionOf(request.body as Fields);
    const done = await takeBackElsewhere(request.deed(), { id: note.id, version });
    if (!done.ok) {
      const { currency } = await guildWords(request);
      return changePage(request, reply, note, elsewhereValues(note, currency), done.problem);
    }
    const text = "It is taken back. It stays on the list and counts for nothing.";
    return reply.seeOther(path, { kind: "good", text });
  });
}

/** What the action refuses stands beside the field of the form that it is about. */
function inForm(problem: Problem, fields: Fields): Problem {
  const { rows } = readFibreRows(fields, "fibres");
  return { ...problem, errors: problem.errors.map((error) => formField(error, rows)) };
}

async function noteOf(request: Request): Promise<ElsewhereRead> {
  const id = wantId((request.params as { id: string }).id, "this sale");
  const note = await findElsewhere(request.server.parts.db, { id, memberId: request.who().id });
  if (!note) throw notFound("this sale");
  return note;
}

async function newPage(request: Request, reply: Reply, values: Fields, problem?: Problem) {
  const page = { title: "Note a sale elsewhere", action: path, values, problem };
  return reply.page("bench/elsewhere-form", await formPage(request, page), problem?.status ?? 200);
}

async function changePage(
  request: Request,
  reply: Reply,
  note: ElsewhereRead,
  values: Fields,
  problem?: Problem,
) {
  const page = {
    ...{ title: note.description, action: `${path}/${note.id}`, values, problem },
    ...{ kind: note.kind, note },
  };
  return reply.page("bench/elsewhere-form", await formPage(request, page), problem?.status ?? 200);
}

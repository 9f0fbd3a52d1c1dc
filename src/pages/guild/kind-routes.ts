import { z } from "zod";
import { addKind, editKind } from "../../actions/kinds.ts";
import { kindChange, kindShape } from "../../contract/kind.ts";
import { listKinds } from "../../database/kinds.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { groupWords } from "./group-words.ts";
import { guildPlaces } from "./places.ts";

const chair = { config: { access: ["chair"] as const } };

/** A rename and a retirement are two buttons of one small form. */
const changeForm = z.strictObject({
  name: kindShape.shape.name.optional(),
  labelGroup: kindChange.shape.labelGroup,
  use: z.enum(["retire", "restore"]).optional(),
});

export async function kindPages(app: App): Promise<void> {
  app.get("/kinds", chair, async (request, reply) =>
    reply.page("guild/kinds", await kindsPage(request)),
  );

  app.post("/kinds", chair, async (request, reply) => {
    const read = readForm(kindShape, request.body);
    const added = read.ok ? await addKind(request.deed(), read.value) : read;
    if (!added.ok)
      return reply.page(
        "guild/kinds",
        await kindsPage(request, added.problem),
        added.problem.status,
      );
    return reply.seeOther("/kinds", { kind: "good", text: "The kind is added." });
  });

  app.post<{ Params: { id: string } }>("/kinds/:id", chair, async (request, reply) => {
    const id = wantId(request.params.id, "this kind");
    const read = readForm(changeForm, request.body);
    const changed = read.ok ? await editKind(request.deed(), id, changeOf(read.value)) : read;
    if (!changed.ok)
      return reply.page(
        "guild/kinds",
        await kindsPage(request, changed.problem),
        changed.problem.status,
      );
    return reply.seeOther("/kinds", { kind: "good", text: "The change is kept." });
  });
}

const changeOf = ({ name, labelGroup, use }: z.output<typeof changeForm>) => ({
  ...(name === undefined ? {} : { name }),
  ...(labelGroup === undefined ? {} : { labelGroup }),
  ...(use === undefined ? {} : { active: use === "restore" }),
});

const groupOptions = (chosen: string) =>
  Object.entries(groupWords).map(([value, label]) => ({
    ...{ value, label },
    selected: value === chosen,
  }));

async function kindsPage(request: Request, problem?: Problem) {
  const kinds = await listKinds(request.server.parts.db, { retired: true });
  return {
    title: "Kinds of goods",
    places: guildPlaces("/kinds"),
    groups: groupOptions(""),
    used: kinds
      .filter((kind) => kind.active)
      .map((kind) => ({ ...kind, groups: groupOptions(kind.labelGroup) })),
    retired: kinds.filter((kind) => !kind.active),
    values: problem ? request.body : undefined,
    problem,
  };
}

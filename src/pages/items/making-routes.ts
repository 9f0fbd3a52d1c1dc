import { noteMaking } from "../../actions/bench/note-making.ts";
import { makingShape } from "../../contract/making.ts";
import { findItem } from "../../database/items.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { ok, type Result } from "../../rules/problem.ts";
import { readMaking } from "../bench/making-fields.ts";
import { guildWords } from "../books/scene.ts";
import { wantId } from "../want-id.ts";
import type { Fields } from "./fields.ts";
import { wrongFields } from "./form.ts";

type WithId = { Params: { id: string } };

/** Hours and materials of one's own piece; for everybody else there is no such page. */
export async function makingPages(app: App): Promise<void> {
  app.post<WithId>(
    "/items/:id/making",
    { config: { access: "signed-in" } },
    async (request, reply) => {
      const item = await ownItem(request);
      const fields = request.body as Fields;
      const read = makingOf(fields, (await guildWords(request)).currency);
      const done = read.ok ? await noteMaking(request.deed(), item.id, read.value) : read;
      if (done.ok) return reply.seeOther(`/items/${item.id}`, { kind: "good", text: "Noted." });
      const page = { item, itemHref: `/items/${item.id}`, values: fields, problem: done.problem };
      const title = `Hours and materials of ${item.shownTag}`;
      return reply.page("items/making", { title, ...page }, done.problem.status);
    },
  );
}

async function ownItem(request: Request) {
  const id = wantId((request.params as { id: string }).id, "this item");
  const item = await findItem(request.server.parts.db, id);
  if (item?.memberId !== request.who().id) throw notFound("this item");
  return item;
}

function makingOf(fields: Fields, currency: string): Result<ReturnType<typeof makingShape.parse>> {
  const { minutes, materials } = readMaking(fields, currency);
  if (!minutes.ok || !materials.ok)
    return wrongFields([minutes, materials].flatMap((one) => (one.ok ? [] : one.problem.errors)));
  const read = makingShape.safeParse({ minutes: minutes.value, materials: materials.value });
  if (read.success) return ok(read.data);
  return wrongFields(
    read.error.issues.map(({ path, message }) => ({ field: path.join("."), message })),
  );
}

import { askPrint } from "../../actions/ask-print.ts";
import { findLabelStock, findPrinter } from "../../database/label-stocks.ts";
import type { App, Request } from "../../plugins/types.ts";
import { paperFor } from "../../printing/paper.ts";
import type { Result } from "../../rules/problem.ts";
import type { Fields } from "../items/fields.ts";
import { isId } from "../want-id.ts";
import { choicePage } from "./choice-page.ts";
import { readPrint } from "./form.ts";
import { labelPicturePages } from "./picture.ts";
import { printPages } from "./prints.ts";
import { scopeOf } from "./scope.ts";

const mine = { config: { access: "signed-in" as const } };
/** Most prints are made in less than this, and then nobody sees a page that waits. */
const patience = 2_500;

/** Choosing what to print and on which stock; the file itself is made beside the request. */
export async function tagPages(app: App): Promise<void> {
  app.get("/tags", mine, async (request, reply) =>
    choicePage(request, reply, request.query as Fields),
  );

  app.post("/tags/prints", mine, async (request, reply) => {
    const body = request.body as Fields;
    const asked = await ask(request, body);
    if (!asked.ok) return choicePage(request, reply, body, asked.problem);
    app.printJobs.wake();
    await app.printJobs.settled(asked.value.id, patience);
    return reply.seeOther(`/tags/prints/${asked.value.id}`);
  });

  await app.register(printPages);
  await app.register(labelPicturePages);
}

async function ask(request: Request, body: Fields): Promise<Result<{ id: string }>> {
  const { db } = request.server.parts;
  const read = readPrint(body);
  if (!read.ok) return inOneField(read);
  const { what, which, stock, printer } = read.value;
  const own = isId(stock) ? await findLabelStock(db, stock) : null;
  const kept = printer ? await findPrinter(db, printer) : null;
  const paper = paperFor(read.value, own?.shape ?? null, kept);
  if (!paper.ok) return paper;
  const scope = await scopeOf(request, body);
  if (!scope.ok) return scope;
  const { sale, itemId, memberId, about } = scope.value;
  return askPrint(request.deed(), {
    ...{ saleId: sale.id, itemId, memberId, what, which, about },
    ...{ stock: own?.name ?? stock, paper: paper.value },
  });
}

/** A place in the list of used labels is a fault of that one field. */
const inOneField = (refused: Extract<Result<never>, { ok: false }>): Result<never> => ({
  ok: false,
  problem: {
    ...refused.problem,
    errors: refused.problem.errors.map(({ field, message }) =>
      field.startsWith("skip.")
        ? { field: "skip", message: "Type the numbers of used labels, such as 3, 7-9." }
        : { field, message },
    ),
  },
});

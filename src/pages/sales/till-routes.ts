import { addTill, renameTill } from "../../actions/tills.ts";
import { tillShape } from "../../contract/sale.ts";
import type { SaleRead } from "../../database/sales.ts";
import { listTillDevices } from "../../database/till-devices.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { guildOf, saleOf, type WithId } from "./sale-of.ts";
import { tillRow } from "./till-row.ts";

const chair = { config: { access: ["chair"] as const } };

/** The tills of a sale: numbered as they are added, named as people speak of them. */
export async function tillPages(app: App): Promise<void> {
  app.get<WithId>("/sales/:id/tills", chair, async (request, reply) =>
    reply.page("sales/tills", await tillsPage(request, await saleOf(request, request.params.id))),
  );

  app.post<WithId>("/sales/:id/tills", chair, async (request, reply) => {
    const sale = await saleOf(request, request.params.id);
    const read = readForm(tillShape, request.body);
    const added = read.ok ? await addTill(request.deed(), sale.id, read.value) : read;
    if (!added.ok)
      return reply.page(
        "sales/tills",
        await tillsPage(request, sale, added.problem),
        added.problem.status,
      );
    const text = `Till ${added.value.number} is added.`;
    return reply.seeOther(`/sales/${sale.id}/tills`, { kind: "good", text });
  });

  app.post<{ Params: { id: string; tillId: string } }>(
    "/sales/:id/tills/:tillId",
    chair,
    async (request, reply) => {
      const sale = await saleOf(request, request.params.id);
      const tillId = wantId(request.params.tillId, "this till");
      const read = readForm(tillShape, request.body);
      const given = { saleId: sale.id, tillId };
      const renamed = read.ok
        ? await renameTill(request.deed(), { ...given, ...read.value })
        : read;
      if (!renamed.ok)
        return reply.page(
          "sales/tills",
          await tillsPage(request, sale, renamed.problem),
          renamed.problem.status,
        );
      return reply.seeOther(`/sales/${sale.id}/tills`, {
        kind: "good",
        text: "The till has its new name.",
      });
    },
  );
}

async function tillsPage(request: Request, sale: SaleRead, problem?: Problem) {
  const tills = await listTillDevices(request.server.parts.db, sale.id);
  const guild = await guildOf(request);
  const now = request.server.now();
  return {
    title: "Tills",
    sale,
    tills: tills.map((till) => tillRow(till, sale, guild, now)),
    values: problem ? request.body : undefined,
    problem,
  };
}

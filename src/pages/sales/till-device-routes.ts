import type { FastifyRequest } from "fastify";
import { makeTillCode } from "../../actions/make-till-code.ts";
import { markTillLost } from "../../actions/mark-till-lost.ts";
import { lossShape } from "../../contract/till-enrolment.ts";
import type { SaleRead } from "../../database/sales.ts";
import { listTillDevices } from "../../database/till-devices.ts";
import { notFound, orRefuse } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { codeMinutes, showCode } from "../../rules/till-code.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { saleOf } from "./sale-of.ts";

type WithTill = { Params: { id: string; tillId: string } };
const chair = { config: { access: ["chair"] as const } };

/** Making a device a till, and shutting out one that is gone. */
export async function tillDevicePages(app: App): Promise<void> {
  app.post<WithTill>("/sales/:id/tills/:tillId/code", chair, async (request, reply) => {
    const { sale, till } = await tillOfSale(request);
    const given = { saleId: sale.id, tillId: till.id, now: app.now() };
    const { code } = orRefuse(await makeTillCode(request.deed(), given));
    const shown = { code: showCode(code), minutes: codeMinutes, address: addressOf(request) };
    return reply.page("sales/till-code", {
      title: `Code for till ${till.number}`,
      sale,
      till,
      ...shown,
    });
  });

  app.get<WithTill>("/sales/:id/tills/:tillId/lost", chair, async (request, reply) => {
    const { sale, till } = await tillOfSale(request);
    if (!till.device) throw notFound("a device of this till");
    return reply.page("sales/till-lost", lostPage(sale, till));
  });

  app.post<WithTill>("/sales/:id/tills/:tillId/lost", chair, async (request, reply) => {
    const { sale, till } = await tillOfSale(request);
    const read = readForm(lossShape, request.body);
    const given = { saleId: sale.id, tillId: till.id };
    const lost = read.ok ? await markTillLost(request.deed(), { ...given, ...read.value }) : read;
    if (!lost.ok) {
      const page = { ...lostPage(sale, till, lost.problem), values: request.body };
      return reply.page("sales/till-lost", page, lost.problem.status);
    }
    return reply.seeOther(`/sales/${sale.id}/tills`, {
      kind: "good",
      text: `The device of till ${till.number} is shut out. Add another till for another device; a code lets this one in again if it turns up.`,
    });
  });
}

type TillOfSale = Awaited<ReturnType<typeof listTillDevices>>[number];

async function tillOfSale(
  request: FastifyRequest<WithTill>,
): Promise<{ sale: SaleRead; till: TillOfSale }> {
  const sale = await saleOf(request as Request, request.params.id);
  const id = wantId(request.params.tillId, "this till");
  const tills = await listTillDevices(request.server.parts.db, sale.id);
  const till = tills.find((one) => one.id === id);
  if (!till) throw notFound("this till");
  return { sale, till };
}

const lostPage = (sale: SaleRead, till: TillOfSale, problem?: Problem) => ({
  title: `The device of till ${till.number} is lost`,
  sale,
  till,
  problem,
});

/** Where the page of the tills is, as it is typed on another device. */
const addressOf = (request: Request): string =>
  `${request.server.parts.settings.publicUrl ?? `${request.protocol}://${request.host}`}/till/`;

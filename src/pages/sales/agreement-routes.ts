import { z } from "zod";
import { acceptAgreement } from "../../actions/accept-agreement.ts";
import { writeAgreement } from "../../actions/write-agreement.ts";
import { acceptanceShape, agreementShape } from "../../contract/sale.ts";
import { type AgreementRead, standingAgreement } from "../../database/agreements.ts";
import { ownRateOf } from "../../database/own-rate.ts";
import type { SaleRead } from "../../database/sales.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { guildWords } from "../books/scene.ts";
import { whenText } from "../format.ts";
import { keepsView } from "../policy/keeps.ts";
import { readForm } from "../read-form.ts";
import { saleOf, type WithId } from "./sale-of.ts";

const number = z.coerce.number().int().min(1);
const acceptForm = acceptanceShape.extend({ version: number });
const wordingForm = agreementShape.extend({ replaces: number });
const chair = { config: { access: ["chair"] as const } };

/** What members agree to for a sale: read and accepted by them, worded by the chair. */
export async function agreementPages(app: App): Promise<void> {
  app.get<WithId>(
    "/sales/:id/agreement",
    { config: { access: "signed-in" } },
    async (request, reply) => {
      const sale = await saleOf(request, request.params.id);
      return reply.page("sales/agreement", await agreementPage(request, sale));
    },
  );

  app.post<WithId>(
    "/sales/:id/acceptances",
    { config: { access: ["member"] } },
    async (request, reply) => {
      const sale = await saleOf(request, request.params.id);
      const read = readForm(acceptForm, request.body);
      const accepted = read.ok
        ? await acceptAgreement(request.deed(), sale.id, read.value.version)
        : read;
      if (!accepted.ok) {
        const page = await agreementPage(request, sale, accepted.problem);
        return reply.page("sales/agreement", page, accepted.problem.status);
      }
      return reply.seeOther("/", {
        kind: "good",
        text: `You have agreed to the terms of ${sale.name}. Now you can enter your items.`,
      });
    },
  );
  await app.register(wordingPages);
}

async function wordingPages(app: App): Promise<void> {
  app.get<WithId>("/sales/:id/agreement/edit", chair, async (request, reply) => {
    const sale = await saleOf(request, request.params.id);
    const { text, version } = await standing(request, sale);
    return reply.page("sales/wording", wordingPage(sale, { text, replaces: String(version) }));
  });

  app.post<WithId>("/sales/:id/agreement", chair, async (request, reply) => {
    const sale = await saleOf(request, request.params.id);
    const read = readForm(wordingForm, request.body);
    const written = read.ok ? await writeAgreement(request.deed(), sale.id, read.value) : read;
    if (!written.ok) {
      const page = wordingPage(sale, request.body, written.problem);
      return reply.page("sales/wording", page, written.problem.status);
    }
    return reply.seeOther(`/sales/${sale.id}/agreement`, {
      kind: "good",
      text: `Version ${written.value.version} stands now. Members are asked to accept it.`,
    });
  });
}

async function standing(request: Request, sale: SaleRead): Promise<AgreementRead> {
  const found = await standingAgreement(request.server.parts.db, sale.id, request.who().id);
  if (!found) throw notFound("this sale");
  return found;
}

async function agreementPage(request: Request, sale: SaleRead, problem?: Problem) {
  const agreement = await standing(request, sale);
  const { id, roles } = request.who();
  const guild = await guildWords(request);
  return {
    title: "What you agree to",
    sale,
    agreement,
    paragraphs: agreement.text.split(/\r?\n/).filter((line) => line.trim() !== ""),
    keeps: keepsView(await ownRateOf(request.server.parts.db, sale.id, id), guild),
    acceptedOn: agreement.acceptedAt && whenText(agreement.acceptedAt, guild),
    mayAccept: roles.includes("member") && !agreement.acceptedAt && sale.stage !== "closed",
    mayWrite: roles.includes("chair") && allows(sale.stage, "edit-sale"),
    seesSale: roles.some((role) => ["chair", "treasurer", "desk"].includes(role)),
    problem,
  };
}

const wordingPage = (sale: SaleRead, values: unknown, problem?: Problem) => ({
  title: "Change what members agree to",
  sale,
  values,
  problem,
});

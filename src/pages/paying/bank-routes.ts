import { z } from "zod";
import { editMemberBank } from "../../actions/edit-member-bank.ts";
import { type MemberBankInput, memberBankShape } from "../../contract/paying.ts";
import { findMemberBank } from "../../database/member-bank.ts";
import { findMember, type MemberRead } from "../../database/members.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Problem, Result } from "../../rules/problem.ts";
import { books, type WithId } from "../books/scene.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { methodChoices } from "./scene.ts";

const { shape } = memberBankShape;
const form = memberBankShape.extend({
  version: z.coerce.number().pipe(shape.version),
  payMethod: z.preprocess((value) => (value === "none" ? null : value), shape.payMethod),
});

/** How a member is paid: their own page, and the same for the treasurer and the chair. */
export async function bankPages(app: App): Promise<void> {
  const mine = { config: { access: "signed-in" as const } };

  app.get("/account/payment", mine, async (request, reply) =>
    reply.page("paying/bank", await page(request, await own(request))),
  );

  app.post("/account/payment", mine, async (request, reply) => {
    const member = await own(request);
    const done = await typed(request, member.id);
    if (!done.ok)
      return reply.page(
        "paying/bank",
        await page(request, member, done.problem),
        done.problem.status,
      );
    return reply.seeOther("/account#payment", {
      kind: "good",
      text: "You will be paid this way from now on.",
    });
  });

  app.get<WithId>("/members/:id/payment", books, async (request, reply) =>
    reply.page("paying/bank", await page(request, await named(request, request.params.id))),
  );

  app.post<WithId>("/members/:id/payment", books, async (request, reply) => {
    const member = await named(request, request.params.id);
    const done = await typed(request, member.id);
    if (!done.ok)
      return reply.page(
        "paying/bank",
        await page(request, member, done.problem),
        done.problem.status,
      );
    return reply.seeOther(`/members/${member.id}/payment`, {
      kind: "good",
      text: `It is kept how ${member.name} is paid. Runs that are prepared already keep what they had.`,
    });
  });
}

async function typed(request: Request, memberId: string): Promise<Result<unknown>> {
  const read: Result<MemberBankInput> = readForm(form, request.body);
  return read.ok ? editMemberBank(request.deed(), memberId, read.value) : read;
}

const own = async (request: Request): Promise<MemberRead> => named(request, request.who().id);

async function named(request: Request, id: string): Promise<MemberRead> {
  const member = await findMember(request.server.parts.db, wantId(id, "this member"));
  if (!member) throw notFound("this member");
  return member;
}

async function page(request: Request, member: MemberRead, problem?: Problem) {
  const isOwn = request.url.startsWith("/account/");
  const bank = await findMemberBank(request.server.parts.db, member.id);
  return {
    title: isOwn ? "How you are paid" : `How ${member.name} is paid`,
    isOwn,
    member,
    action: isOwn ? "/account/payment" : `/members/${member.id}/payment`,
    back: isOwn
      ? { href: "/account", label: "My account" }
      : { href: `/members/${member.id}`, label: member.name },
    methods: [{ value: "none", label: "As the guild decides" }, ...methodChoices],
    values: problem ? request.body : { ...bank, payMethod: bank.payMethod ?? "none" },
    problem,
  };
}

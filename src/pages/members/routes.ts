import { z } from "zod";
import { addMember } from "../../actions/add-member.ts";
import { editMember } from "../../actions/edit-member.ts";
import { offerLink } from "../../actions/one-use-links.ts";
import { clearPin } from "../../actions/set-pin.ts";
import { memberStatus } from "../../contract/member.ts";
import { findMember, listMembers, type MemberRead } from "../../database/members.ts";
import { notFound, orRefuse } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { nextHref, searchOf, wantId } from "../want-id.ts";
import { editMemberForm, newMemberForm, roleChoices } from "./form.ts";
import { importPages } from "./import-routes.ts";
import { linkPage, listPage, memberPage } from "./views.ts";

type WithId = { Params: { id: string } };
type Query = { Querystring: { q?: string; status?: string; after?: string } };

const readers = { config: { access: ["chair", "treasurer"] as const } };
const chair = { config: { access: ["chair"] as const } };
const pageLength = 50;

export async function memberPages(app: App): Promise<void> {
  await app.register(importPages);
  await app.register(listAndAdd);
  await app.register(oneMember);
  await app.register(links);
}

async function listAndAdd(app: App): Promise<void> {
  app.get<Query>("/members", readers, async (request, reply) => {
    const q = searchOf(request.query.q);
    const status = memberStatus.safeParse(request.query.status).data;
    const after = z.coerce.number().int().min(0).max(9_999).catch(0).parse(request.query.after);
    const found = await listMembers(app.parts.db, { q, status, after, limit: pageLength });
    const next = nextHref("/members", found.next, { q, status: status ?? "" });
    return reply.page("members/list", listPage(request.who(), found.items, { q, status, next }));
  });

  app.get("/members/new", chair, async (_request, reply) =>
    reply.page("members/new", newPage({ roles: ["member"] })),
  );

  app.post("/members", chair, async (request, reply) => {
    const read = readForm(newMemberForm, request.body);
    const added = read.ok ? await addMember(request.deed(), read.value) : read;
    if (!added.ok)
      return reply.page("members/new", newPage(request.body, added.problem), added.problem.status);
    const { id, number } = added.value;
    return reply.seeOther(`/members/${id}`, {
      kind: "good",
      text: `Member ${number} is added. Next: make a link so that they can choose a pass phrase.`,
    });
  });
}

const newPage = (values: unknown, problem?: Problem) => ({
  title: "Add a member",
  roles: roleChoices,
  values,
  problem,
});

async function oneMember(app: App): Promise<void> {
  app.get<WithId>("/members/:id", readers, async (request, reply) => {
    const member = await memberOf(request, request.params.id);
    return reply.page("members/member", memberPage(request.who(), member));
  });

  app.post<WithId>("/members/:id", chair, async (request, reply) => {
    const member = await memberOf(request, request.params.id);
    const read = readForm(editMemberForm, request.body);
    const edited = read.ok ? await editMember(request.deed(), member.id, read.value) : read;
    if (!edited.ok) {
      const data = memberPage(request.who(), member, request.body, edited.problem);
      return reply.page("members/member", data, edited.problem.status);
    }
    return reply.seeOther(`/members/${member.id}`, { kind: "good", text: "The change is kept." });
  });
}

async function links(app: App): Promise<void> {
  app.get<WithId>("/members/:id/link", chair, async (request, reply) =>
    reply.page("members/link", linkPage(await memberOf(request, request.params.id))),
  );

  app.post<WithId>("/members/:id/link", chair, async (request, reply) => {
    const member = await memberOf(request, request.params.id);
    const { token, purpose } = orRefuse(await offerLink(request.deed(), member.id));
    const address = app.parts.settings.publicUrl ?? `${request.protocol}://${request.host}`;
    const made = { href: `${address}/join/${token}`, purpose };
    return reply.page("members/link", linkPage(member, made));
  });

  app.post<WithId>("/members/:id/pin/clear", chair, async (request, reply) => {
    const member = await memberOf(request, request.params.id);
    orRefuse(await clearPin(request.deed(), member.id));
    const text = `${member.name} has no PIN any more and can choose a new one on their account page.`;
    return reply.seeOther(`/members/${member.id}`, { kind: "good", text });
  });
}

async function memberOf(request: Request, id: string): Promise<MemberRead> {
  const member = await findMember(request.server.parts.db, wantId(id, "this member"));
  if (!member) throw notFound("this member");
  return member;
}

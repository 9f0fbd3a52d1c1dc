import { z } from "zod";
import { addMember } from "../actions/add-member.ts";
import { editMember } from "../actions/edit-member.ts";
import { offerLink } from "../actions/one-use-links.ts";
import { memberChange, memberShape, memberShown, memberStatus } from "../contract/member.ts";
import { findMember, listMembers } from "../database/members.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const chair = { access: ["chair"] as const };
const readers = { access: ["chair", "treasurer"] as const };
const params = z.object({ id: z.uuid() });
const query = pageQuery.extend({
  after: z.coerce.number().int().min(0).max(9_999).optional(),
  status: memberStatus.optional(),
});
const link = z.object({ token: z.string(), path: z.string(), purpose: z.string() });

export async function memberApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;
  const shown = async (id: string) => {
    const member = await findMember(db, id);
    if (!member) throw notFound("this member");
    return member;
  };

  route.get("/members", {
    config: readers,
    schema: {
      tags: ["members"],
      summary: "Members in the order of their numbers; q finds names, e-mails and numbers",
      querystring: query,
      response: { 200: pageOf(memberShown), ...refusals },
    },
    handler: async (request) => listMembers(db, request.query),
  });

  route.post("/members", {
    config: chair,
    schema: {
      tags: ["members"],
      summary: "Add a member under the next number",
      body: memberShape,
      response: { 201: memberShown, ...refusals },
    },
    handler: async (request, reply) => {
      const { id } = orRefuse(await addMember(request.deed(), request.body));
      return reply.code(201).send(await shown(id));
    },
  });

  route.get("/members/:id", {
    config: readers,
    schema: {
      tags: ["members"],
      summary: "One member",
      params,
      response: { 200: memberShown, ...refusals },
    },
    handler: async (request) => shown(request.params.id),
  });

  route.patch("/members/:id", {
    config: chair,
    schema: {
      tags: ["members"],
      summary: "Change a member; resting ends every session",
      params,
      body: memberChange,
      response: { 200: memberShown, ...refusals },
    },
    handler: async (request) => {
      const { id } = request.params;
      orRefuse(await editMember(request.deed(), id, request.body));
      return shown(id);
    },
  });

  route.post("/members/:id/link", {
    // Every call makes a fresh link and ends the one before, so no key could repeat its answer.
    config: { ...chair, keyless: true },
    schema: {
      tags: ["members"],
      summary: "A link that works once, for a member to choose a pass phrase",
      params,
      response: { 201: link, ...refusals },
    },
    handler: async (request, reply) => {
      const made = orRefuse(await offerLink(request.deed(), request.params.id));
      return reply.code(201).send({ ...made, path: `/join/${made.token}` });
    },
  });
}

import { z } from "zod";
import { editMemberBank } from "../actions/edit-member-bank.ts";
import { editPayingSettings } from "../actions/edit-paying-settings.ts";
import {
  memberBankShape,
  memberBankShown,
  payingSettingsShape,
  payingSettingsShown,
} from "../contract/paying.ts";
import { findMemberBank } from "../database/member-bank.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App, Request } from "../plugins/types.ts";
import { hasAny } from "../rules/roles.ts";
import { refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const params = z.object({ id: z.uuid() });

/** How members are paid, and the guild's own account. */
export async function payingApi(app: App): Promise<void> {
  await app.register(memberBanks);
  await app.register(settings);
}

/** Somebody else's account is not there, exactly like that of a member who never was. */
async function readable(request: Request, id: string) {
  const who = request.who();
  const { db } = request.server.parts;
  const may = who.id === id || hasAny(who.roles, books.access);
  const member = may ? await db.member.findUnique({ where: { id }, select: { id: true } }) : null;
  if (!member) throw notFound("this member");
  const { memberId, version, payee, account, bank, payMethod } = await findMemberBank(db, id);
  return { memberId, version, payee, account, bank, payMethod };
}

async function memberBanks(app: App): Promise<void> {
  const route = typed(app);
  const mine = { access: "signed-in" as const };

  route.get("/members/:id/bank", {
    config: mine,
    schema: {
      tags: ["paying"],
      summary: "How a member is paid: for the member, the treasurer and the chair",
      params,
      response: { 200: memberBankShown, ...refusals },
    },
    handler: async (request) => readable(request as never, request.params.id),
  });

  route.put("/members/:id/bank", {
    config: mine,
    schema: {
      tags: ["paying"],
      summary: "Say how a member is paid",
      description: "`version` is 0 as long as nothing was typed.",
      params,
      body: memberBankShape,
      response: { 200: memberBankShown, ...refusals },
    },
    handler: async (request) => {
      const { id } = request.params;
      orRefuse(await editMemberBank(request.deed(), id, request.body));
      return readable(request as never, id);
    },
  });
}

async function settings(app: App): Promise<void> {
  const route = typed(app);
  const read = async () => {
    const { id: _one, ...row } = await app.parts.db.payingSetting.findFirstOrThrow();
    return row;
  };

  route.get("/paying-settings", {
    config: books,
    schema: {
      tags: ["paying"],
      summary: "The guild's own account, and when members are reminded",
      response: { 200: payingSettingsShown, ...refusals },
    },
    handler: read,
  });

  route.put("/paying-settings", {
    config: books,
    schema: {
      tags: ["paying"],
      summary: "Change the guild's own account and the days of reminders",
      body: payingSettingsShape,
      response: { 200: payingSettingsShown, ...refusals },
    },
    handler: async (request) => {
      orRefuse(await editPayingSettings(request.deed(), request.body));
      return read();
    },
  });
}

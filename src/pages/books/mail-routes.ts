import { mailStatement, mailStatements } from "../../actions/mail-statements.ts";
import { returnStatementMail } from "../../actions/return-statement-mail.ts";
import {
  mailReturnShape,
  mailStatementShape,
  mailStatementsShape,
} from "../../contract/statement-mail.ts";
import { gatherStatements } from "../../database/statements.ts";
import type { App } from "../../plugins/types.ts";
import { refuse } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { sendStatements } from "../statement-pdf.ts";
import { wantId } from "../want-id.ts";
import { settlementMails, statementMails } from "./mail-page.ts";
import { books, type WithId } from "./scene.ts";

type WithMail = { Params: { id: string; mailId: string } };

const noMail = () => refuse("no-mail", "Nothing was sent. Print the statements instead.");

/** Statements by e-mail: of a whole settlement, and of one member with every message. */
export async function mailPages(app: App): Promise<void> {
  await app.register(ofSettlement);
  await app.register(ofStatement);
}

async function ofSettlement(app: App): Promise<void> {
  app.get<WithId>("/books/settlements/:id/mails", books, async (request, reply) => {
    const page = await settlementMails(request);
    if (page.refresh) reply.header("refresh", page.refresh);
    return reply.page("books/mails", page);
  });

  app.post<WithId>("/books/settlements/:id/mails", books, async (request, reply) => {
    const settlementId = wantId(request.params.id, "this settlement");
    const read = readForm(mailStatementsShape, request.body);
    const sending = app.parts.settings.mail ? read : noMail();
    const done = sending.ok
      ? await mailStatements(request.deed(), { settlementId, ...sending.value })
      : sending;
    if (!done.ok) {
      const page = await settlementMails(request, done.problem);
      return reply.page("books/mails", page, done.problem.status);
    }
    void app.statementMails.wake();
    const { queued } = done.value;
    const text = `${queued === 1 ? "1 statement is" : `${queued} statements are`} on the way.`;
    return reply.seeOther(`/books/settlements/${settlementId}/mails`, { kind: "good", text });
  });

  app.get<WithId>("/books/settlements/:id/to-print.pdf", books, async (request, reply) => {
    const settlementId = wantId(request.params.id, "this settlement");
    const member = { email: null };
    const statements = await gatherStatements(app.parts.db, { settlementId, member });
    return sendStatements(reply, statements, "statements-to-print.pdf");
  });
}

async function ofStatement(app: App): Promise<void> {
  app.get<WithId>("/books/statements/:id/mails", books, async (request, reply) => {
    const page = await statementMails(request);
    if (page.refresh) reply.header("refresh", page.refresh);
    return reply.page("books/statement-mails", page);
  });

  app.post<WithId>("/books/statements/:id/mails", books, async (request, reply) => {
    const statementId = wantId(request.params.id, "this statement");
    const read = readForm(mailStatementShape, request.body);
    const sending = app.parts.settings.mail ? read : noMail();
    const done = sending.ok
      ? await mailStatement(request.deed(), { statementId, ...sending.value })
      : sending;
    if (!done.ok) {
      const page = await statementMails(request, done.problem);
      return reply.page("books/statement-mails", page, done.problem.status);
    }
    void app.statementMails.wake();
    const text = "The statement is on the way.";
    return reply.seeOther(`/books/statements/${statementId}/mails`, { kind: "good", text });
  });

  app.post<WithMail>(
    "/books/statements/:id/mails/:mailId/return",
    books,
    async (request, reply) => {
      const statementId = wantId(request.params.id, "this statement");
      const mailId = wantId(request.params.mailId, "this message");
      const read = readForm(mailReturnShape, request.body);
      const done = read.ok
        ? await returnStatementMail(request.deed(), { mailId, ...read.value })
        : read;
      if (!done.ok) {
        const page = await statementMails(request, done.problem);
        return reply.page("books/statement-mails", page, done.problem.status);
      }
      const text = "It is noted that the message came back.";
      return reply.seeOther(`/books/statements/${statementId}/mails`, { kind: "good", text });
    },
  );
}

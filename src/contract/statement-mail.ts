import * as z from "zod";
import { mailStates } from "../rules/mail-state.ts";
import { line } from "./text.ts";

export const mailStatementsShape = z.strictObject({
  which: z.enum(["new", "failed"], "Say which: those never sent, or those that failed"),
});

/** `after` is how many messages for this statement the page showed: one more is sent, not two. */
export const mailStatementShape = z.strictObject({
  after: z.coerce.number().int().min(0).max(1_000_000),
});

export const mailReturnShape = z.strictObject({
  note: line(200, "Say what came back, such as “mailbox full”"),
});

const count = z.number().int();

export const queuedShape = z.object({
  settlementId: z.uuid(),
  queued: count,
  withoutAddress: count,
});

export const statementQueuedShape = z.object({
  mailId: z.uuid(),
  statementId: z.uuid(),
  attempt: count,
});

export const mailReturnedShape = z.object({ mailId: z.uuid(), statementId: z.uuid() });

export const statementMailsShape = z.object({
  unsent: count,
  noAddress: count,
  waiting: count,
  sent: count,
  failed: count,
  returned: count,
  items: z.array(
    z.object({
      statementId: z.uuid(),
      number: count,
      memberId: z.uuid(),
      memberNumber: count,
      memberName: z.string(),
      address: z.string().nullable(),
      state: z.enum(mailStates),
      attempt: count,
      tries: count,
      lastError: z.string(),
      note: z.string(),
      nextAt: z.string().nullable(),
      endedAt: z.string().nullable(),
    }),
  ),
  next: z.string().nullable(),
});

export const mailsOfStatementShape = z.object({
  items: z.array(
    z.object({
      id: z.uuid(),
      attempt: count,
      state: z.enum(mailStates),
      tries: count,
      lastError: z.string(),
      note: z.string(),
      createdAt: z.string(),
      endedAt: z.string().nullable(),
      returnedAt: z.string().nullable(),
    }),
  ),
});

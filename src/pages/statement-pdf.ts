import { notFound } from "../plugins/errors.ts";
import type { Reply } from "../plugins/types.ts";
import { printFrozen } from "../printing/statement-words.ts";
import type { FrozenStatement } from "../rules/statement.ts";

/** Sends statements as one PDF to open in the browser; none found is "not found". */
export async function sendStatements(
  reply: Reply,
  statements: readonly FrozenStatement[],
  name = `statement-${statements[0]?.number}.pdf`,
) {
  if (statements.length === 0) throw notFound("this statement");
  return reply
    .type("application/pdf")
    .header("content-disposition", `inline; filename="${name}"`)
    .send(Buffer.from(await printFrozen(statements)));
}

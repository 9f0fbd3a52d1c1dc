import { Prisma } from "./generated/client.ts";

/**
 * How many pieces of the line `l` have come back. One that came before its sale names its line
 * only in `awaits_line_id`, and counts once it has been cleared.
 */
export const piecesBack = Prisma.sql`(SELECT coalesce(-sum(b.quantity), 0) FROM receipt_line b
  WHERE b.reverses_line_id = l.id OR (b.awaits_line_id = l.id
    AND EXISTS (SELECT 1 FROM identified n WHERE n.line_id = b.id)))`;

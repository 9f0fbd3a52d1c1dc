import { z } from "zod";

/** How far a till has read the changes: the number of a transaction, as catalogueDelta gave it. */
export const cursorShape = z.string().regex(/^\d{1,18}$/, "Give the cursor of the list you have");

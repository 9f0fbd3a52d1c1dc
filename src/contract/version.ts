import * as z from "zod";

/** The number of the state a person was looking at; an older one means somebody was quicker. */
export const versionNumber = z
  .int("Load the page again and repeat the change")
  .min(1)
  // What the database's column holds: more would be an error there instead of "changed meanwhile".
  .max(2_147_483_647);

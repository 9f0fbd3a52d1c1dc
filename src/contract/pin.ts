import * as z from "zod";
import { checkPin } from "../rules/pin.ts";

/** A new PIN for taking over a till: four to six digits that are not guessed at once. */
export const pinShape = z.strictObject({
  pin: z
    .string("Use four to six digits.")
    .trim()
    .check((found) => {
      for (const { message } of checkPin(found.value))
        found.issues.push({ code: "custom", message, input: found.value });
    }),
});

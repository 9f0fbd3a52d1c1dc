import * as z from "zod";
import { readCode } from "../rules/till-code.ts";
import { line } from "./text.ts";

/** What a device sends to become a till. */
export const enrolmentShape = z.strictObject({
  code: z
    .string("Type the code that the chair shows")
    .max(40, "A code has eight letters and digits")
    .refine((code) => readCode(code) !== undefined, "A code has eight letters and digits"),
  name: line(40, "Give this device a name, such as Grey laptop"),
  /** The device's own mark of this try: sent again with it, a lost answer is answered again. */
  attempt: z.uuid().optional(),
  /** The till that the device is already, for one that the server does not let in any more. */
  keeps: z.strictObject({ tillId: z.uuid(), lastNumber: z.int().min(0).max(999_999) }).optional(),
});

export type Enrolment = z.output<typeof enrolmentShape>;

/** Which till the device is from now on; its token comes as a cookie that no script can read. */
export const enrolledShape = z.object({
  tillId: z.uuid(),
  number: z.int(),
  name: z.string(),
  saleId: z.uuid(),
});

export type Enrolled = z.output<typeof enrolledShape>;

export const lossShape = z.strictObject({
  reason: line(200, "Say what happened to the device"),
});

/** A code as the chair reads it out, once. */
export const tillCodeShown = z.object({ code: z.string(), expiresAt: z.string() });

/** The device of a till as the chair sees it. */
export const deviceShown = z.object({
  name: z.string(),
  enrolledAt: z.string(),
  lostAt: z.string().nullable(),
  lastSeenAt: z.string().nullable(),
  unsent: z.int(),
  lastNumber: z.int(),
});

export const tillWithDevice = z.object({
  id: z.uuid(),
  number: z.int(),
  name: z.string(),
  open: z.boolean(),
  device: deviceShown.nullable(),
});

export type TillWithDevice = z.output<typeof tillWithDevice>;

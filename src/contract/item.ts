import * as z from "zod";
import { itemStates } from "../rules/item-state.ts";
import { emptyDetails } from "../rules/labels/details.ts";
import { fibreShape, fibresShape, keptLabelShape, labelShape } from "./label.ts";
import { line, optionalLine } from "./text.ts";
import { versionNumber } from "./version.ts";

export const mostItemsAtOnce = 100;

const wholeNumber = (message: string) => z.int(message);
const coins = wholeNumber("Give the price as a whole number of smallest coins");
const pieces = wholeNumber("Type a whole number of pieces");
const code = z.string("Choose one from the list").trim().max(40, "Choose one from the list");

/** What a member says about an item: who may say it and for how much is left to the rules. */
export const itemShape = z.strictObject({
  kind: code.min(1, "Choose what kind of piece it is"),
  description: line(60, "Say in a few words what it is"),
  technique: optionalLine(60).default(""),
  /** Empty when the label lists the yarns. */
  fibres: fibresShape.default([]),
  size: optionalLine(40).default(""),
  colours: optionalLine(60).default(""),
  label: labelShape.default(emptyDetails),
  price: coins,
  quantity: pieces.default(1),
  piecesInSet: pieces.default(1),
  donated: z.boolean("Say true or false").default(false),
  markdown: z.boolean("Say true or false").default(false),
});

/** The version of the sale's agreement that the member accepts with this entry. */
const agreementVersion = versionNumber.optional();
const memberNumber = z.int("Give the member's number").min(1).max(9_999).optional();

/** A draft of one's own that is done with when this is entered. */
const draftId = z.uuid().optional();

export const newItemShape = itemShape.extend({ agreementVersion, memberNumber, draftId });

export const newItemsShape = z.strictObject({
  items: z
    .array(itemShape)
    .min(1, "Give at least one item")
    .max(mostItemsAtOnce, `Give at most ${mostItemsAtOnce} items at once`),
  agreementVersion,
  memberNumber,
  draftId,
});

/** Left out, the label's details and the leave to mark down stay as they are. */
export const itemEditShape = itemShape.extend({
  version: versionNumber,
  label: labelShape.optional(),
  markdown: itemShape.shape.markdown.unwrap().optional(),
});

export const markdownShape = z.strictObject({
  allowed: itemShape.shape.markdown.unwrap(),
  version: versionNumber,
});

export const copyShape = z.strictObject({ saleId: z.uuid().optional(), agreementVersion });

/** The tag that an entry was given. */
export const enteredShape = z.object({ id: z.uuid(), tag: z.string(), number: z.int() });

export const shownItemShape = z.object({
  id: z.uuid(),
  saleId: z.uuid(),
  memberId: z.uuid(),
  memberNumber: z.int(),
  number: z.int(),
  tag: z.string(),
  shownTag: z.string(),
  kind: z.string(),
  kindName: z.string(),
  labelKind: z.string(),
  description: z.string(),
  technique: z.string(),
  fibres: z.array(z.object(fibreShape.shape)),
  size: z.string(),
  colours: z.string(),
  label: keptLabelShape,
  price: z.int(),
  quantity: z.int(),
  piecesInSet: z.int(),
  donated: z.boolean(),
  markdown: z.boolean(),
  version: z.int(),
  enteredAt: z.string(),
  withdrawnAt: z.string().nullable(),
  state: z.enum(itemStates),
  pieces: z.object({
    entered: z.int(),
    withMember: z.int(),
    onFloor: z.int(),
    withBuyer: z.int(),
    withGuild: z.int(),
    lost: z.int(),
  }),
});

export type ItemInput = z.infer<typeof itemShape>;

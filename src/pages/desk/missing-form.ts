import type { DeskTally } from "../../actions/desk-goods.ts";
import { declareFound, declareLost, leaveWithGuild } from "../../actions/missing-pieces.ts";
import { pickUpItem } from "../../actions/pick-up-item.ts";
import { pickUpItems } from "../../actions/pick-up-items.ts";
import { type PiecesInput, piecesShape, tagsShape } from "../../contract/desk.ts";
import type { Request } from "../../plugins/types.ts";
import { ok, type Result, refuseField } from "../../rules/problem.ts";
import { type Fields, textOf, tickedOf } from "../items/fields.ts";
import { readForm } from "../read-form.ts";

const deeds = { lost: declareLost, found: declareFound, guild: leaveWithGuild } as const;

const words = {
  lost: "noted as missing",
  found: "found, and back on the floor",
  guild: "left with the guild",
  home: "handed back",
} as const;

type MissingDeed = keyof typeof words;

const isDeed = (text: string): text is MissingDeed => Object.hasOwn(words, text);

export interface Accounted {
  tally: DeskTally;
  /** What became of the pieces, for the message. */
  word: string;
}

/** Does what was asked for with all that is ticked. */
export async function accountFor(
  request: Request,
  saleId: string,
  body: Fields,
): Promise<Result<Accounted>> {
  const wanted = textOf(body, "deed");
  if (!isDeed(wanted)) return refuseField("deed", "Choose what became of the pieces.");
  const done = await (wanted === "home"
    ? sendHome(request, saleId, body)
    : move(request, saleId, body, wanted));
  return done.ok ? ok({ tally: done.value, word: words[wanted] }) : done;
}

async function move(
  request: Request,
  saleId: string,
  body: Fields,
  wanted: keyof typeof deeds,
): Promise<Result<DeskTally>> {
  const tags = tickedOf(body, "tags");
  const read = readPieces(body, tags);
  const done = read.ok ? await deeds[wanted](request.deed(), { ...read.value, saleId }) : read;
  return done.ok ? done : { ok: false, problem: { ...done.problem, ...onFields(done, tags) } };
}

/** 0 for what is no number, which is refused in the words for a wrong number. */
const wholeOf = (typed: string): number => (/^\d{1,6}$/.test(typed) ? Number(typed) : 0);

/** A browser may send the field of every piece; only the ticked ones count. */
function readPieces(body: Fields, tags: string[]): Result<PiecesInput> {
  const pieces = tags.map((tag) => {
    const typed = textOf(body, `quantity-${tag}`);
    return typed === "" ? { tag } : { tag, quantity: wholeOf(typed) };
  });
  return readForm(piecesShape, { pieces, reason: textOf(body, "reason") });
}

/** Errors of the list by its places, turned to the fields of the form. */
const onFields = (
  refused: { problem: { errors: { field: string; message: string }[] } },
  tags: string[],
) => ({
  errors: refused.problem.errors.map(({ field, message }) => {
    const [list, index, name] = field.split(".");
    if (list !== "pieces") return { field, message };
    const tag = tags[Number(index)];
    return { field: tag && name === "quantity" ? `quantity-${tag}` : "tags", message };
  }),
});

/** Whole stacks go home together; a part of one goes by itself. */
async function sendHome(
  request: Request,
  saleId: string,
  body: Fields,
): Promise<Result<DeskTally>> {
  const tags = tickedOf(body, "tags");
  const read = readForm(tagsShape, { tags });
  if (!read.ok) return read;
  const parted = tags.find((tag) => textOf(body, `quantity-${tag}`) !== "");
  if (!parted) return pickUpItems(request.deed(), { saleId, tags: read.value.tags });
  const field = `quantity-${parted}`;
  if (tags.length > 1)
    return refuseField(field, "Hand back a part of a stack by itself: tick nothing else with it.");
  const quantity = wholeOf(textOf(body, field));
  const done = await pickUpItem(request.deed(), { saleId, tag: parted, quantity, reason: "" });
  if (done.ok) return ok({ done: [done.value], refused: [] });
  const errors = done.problem.errors.map(({ message }) => ({ field, message }));
  return { ok: false, problem: { ...done.problem, errors } };
}

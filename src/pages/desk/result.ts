import type { Database } from "../../database/client.ts";
import { deskProgress } from "../../database/desk.ts";
import { findItemByTag, type ShownItem } from "../../database/items.ts";
import { findLabel } from "../../database/labels.ts";
import { hasStaleTag } from "../../database/tag-prints.ts";
import type { Request } from "../../plugins/types.ts";
import { formatMoney } from "../../rules/currency.ts";
import { piecesText } from "../../rules/item.ts";
import type { Problem, ProblemCode } from "../../rules/problem.ts";
import { readTag } from "../../rules/tag-number.ts";

/** What came of a scan: one word with an icon and a colour, large enough to read in passing. */
export interface DeskResult {
  kind: "good" | "warn" | "bad";
  icon: string;
  word: string;
  shownTag: string;
  text: string;
  status: number;
  /** The piece itself, when the number is known. */
  piece?: { words: string; href: string; memberHref: string; member: string };
  /** What the helper should look at: cautions of the piece, and a tag that is out of date. */
  notes?: string[];
  /** What is needed to take the scan back. */
  undo?: { tag: string; saleId: string };
}

export async function doneResult(
  request: Request,
  item: ShownItem,
  quantity: number,
  taking: boolean,
): Promise<DeskResult> {
  const { db } = request.server.parts;
  const { entered, toCome, onFloor } = await deskProgress(db, item.saleId, item.memberId);
  const pieces = quantity === 1 ? "1 piece" : `${quantity} pieces`;
  const rest = taking
    ? `Member ${item.memberNumber}: ${entered - toCome} of ${entered} pieces have come.`
    : `Member ${item.memberNumber}: ${onFloor} still on the floor.`;
  return {
    kind: "good",
    icon: "check",
    word: taking ? "Taken in" : "Handed back",
    shownTag: item.shownTag,
    text: `${pieces}. ${rest}`,
    status: 200,
    piece: await pieceWords(request, item),
    ...(taking ? { notes: await notesOn(db, item) } : {}),
    ...(taking ? { undo: { tag: item.tag, saleId: item.saleId } } : {}),
  };
}

/** What the desk looks at when this piece lies on the table. */
export async function notesOn(db: Database, item: ShownItem): Promise<string[]> {
  const { caution } = await findLabel(db, item.id);
  const stale = await hasStaleTag(db, item);
  return stale ? [staleWords, ...caution.desk] : caution.desk;
}

const staleWords =
  "The tag on it is out of date: price or label have changed since it was printed. Print a new one and take the old one off.";

/** Short words for the refusals a desk meets; the full sentence stands below them. */
const refusedWords: Partial<Record<ProblemCode, string>> = {
  "already-done": "Already in",
  "already-sold": "Already sold",
  "not-on-floor": "Not on the floor",
  withdrawn: "Withdrawn",
  "other-sale": "Another sale",
  "unknown-tag": "Unknown tag",
  "wrong-check-digits": "Misread",
  "look-first": "Look first",
  "stage-closed": "Not at this stage",
  "not-found": "No such member",
};

export async function refusedResult(
  request: Request,
  problem: Problem,
  code: string,
): Promise<DeskResult> {
  const { db } = request.server.parts;
  const tag = readTag(code, [8, 10]);
  const item = tag.ok ? await findItemByTag(db, tag.value) : undefined;
  const seen = problem.code === "already-done";
  return {
    kind: seen ? "warn" : "bad",
    icon: seen ? "warn" : "cross",
    word: code === "" ? "Nothing typed" : (refusedWords[problem.code] ?? "Not understood"),
    shownTag: item?.shownTag ?? code.slice(0, 20),
    text: problem.detail,
    status: problem.status,
    ...(item ? { piece: await pieceWords(request, item) } : {}),
  };
}

async function pieceWords(request: Request, item: ShownItem) {
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const member = await db.member.findUniqueOrThrow({ where: { id: item.memberId } });
  const price = formatMoney(item.price, guild.currency, guild.locale);
  const pieces = piecesText(item.quantity, item.piecesInSet);
  return {
    words: [item.description, item.colours, pieces, price].filter(Boolean).join(", "),
    href: `/desk/items/${item.tag}`,
    member: `${member.number} ${member.name}`,
    memberHref: `/desk/members/${member.number}?sale=${item.saleId}`,
  };
}

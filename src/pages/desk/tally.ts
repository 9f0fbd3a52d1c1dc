import type { DeskTally } from "../../actions/desk-goods.ts";

/** "3 pieces handed back.", and what could not be. */
export function tallyNotice({ done, refused }: DeskTally, word: string) {
  const pieces = done.reduce((sum, { quantity }) => sum + quantity, 0);
  const text = `${pieces} ${pieces === 1 ? "piece" : "pieces"} ${word}.`;
  if (refused.length === 0) return { kind: "good" as const, text };
  const others = refused.map(({ detail }) => detail).join(" ");
  return { kind: "warn" as const, text: `${text} ${others}`.slice(0, 480) };
}

import type { Hindrance, HindranceFacts, Money } from "./hindrance.ts";
import { counted, some } from "./words.ts";

export const unsent = ({ devices, saleId }: HindranceFacts): Hindrance[] =>
  devices.map(({ till, device, unsent: count, lost }) => ({
    kind: lost ? "lost-device" : "unsent",
    must: !lost,
    count,
    words: lost
      ? `The device of till ${till} (${device}) is noted as lost, and ${counted(count, "entry", "entries")} of it never came.`
      : `Till ${till} (${device}) still keeps ${counted(count, "entry", "entries")} that it has not sent. Open its page on line and wait until it says that all is sent.`,
    action: { label: "Bring in its file instead", href: `/sales/${saleId}/unsent` },
  }));

export const openTills = ({ openTills }: HindranceFacts): Hindrance[] =>
  openTills.map(({ id, number }) => ({
    kind: "open-till",
    must: true,
    count: 1,
    words: `Till ${number} is open: its drawer has not been counted.`,
    action: { label: `Cash up till ${number}`, href: `/till/${id}/cash-up` },
  }));

export function drawers({ drawers, saleId }: HindranceFacts, money: Money): Hindrance[] {
  if (drawers.length === 0) return [];
  const each = drawers.map(({ till, difference, note }) => {
    const off = difference > 0 ? `${money(difference)} over` : `${money(0 - difference)} short`;
    return `till ${till} ${off}${note === "" ? "" : " (with a note)"}`;
  });
  return [
    {
      kind: "drawer",
      must: false,
      count: drawers.length,
      words: `${counted(drawers.length, "drawer", "drawers")} did not come out even: ${some(each)}.`,
      action: { label: "Look into it", href: `/books/${saleId}/drawers/differences` },
    },
  ];
}

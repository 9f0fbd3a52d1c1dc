import { showTag } from "../../../rules/tag-number.ts";
import { handedBack } from "./finish.ts";
import type { Till } from "./till.ts";

export const customerChannel = "till-customer";

/** What the buyer's screen shows: words only, and nothing about members or other buyers. */
export interface CustomerNews {
  guild: string;
  lines: { name: string; amount: string }[];
  label: string;
  amount: string;
  note: string;
}

/** Tells the buyer's screen about every change, and again whenever it opens. */
export function tellCustomer(till: Till): void {
  if (typeof BroadcastChannel === "undefined") return;
  const channel = new BroadcastChannel(customerChannel);
  const send = () => channel.postMessage(newsOf(till));
  channel.addEventListener("message", ({ data }) => {
    if (data === "hello") send();
  });
  till.onChange(send);
}

function newsOf(till: Till): CustomerNews {
  const { guild } = till.scene;
  const { money } = till.words;
  const { place, basket, done } = till.shown;
  if (place === "done") {
    const back = handedBack(done);
    return {
      ...{ guild: guild.name, lines: [], note: "Thank you for buying handwoven." },
      label: back > 0 ? "Your change" : "Paid",
      amount: money(back > 0 ? back : (done.at(-1)?.total ?? 0)),
    };
  }
  const due = till.due();
  const lines = due.totals.lines.map(({ tag, description, quantity, gross, discount }) => ({
    name: [quantity > 1 ? `${quantity} ×` : "", description, tag ? showTag(tag) : ""]
      .filter(Boolean)
      .join(" "),
    amount: money(gross - discount),
  }));
  const label = due.due < 0 ? "You get back" : "Total";
  const paid = basket.tenders.length > 0 && due.rest > 0 ? `Still to pay: ${money(due.rest)}` : "";
  const tax = due.totals.tax > 0 ? `Tax in it: ${money(due.totals.tax)}` : "";
  return { guild: guild.name, lines, label, amount: money(Math.abs(due.due)), note: paid || tax };
}

import { type CustomerNews, customerChannel } from "./customer-news.ts";
import { make, part, show } from "./dom.ts";

/** The second window that faces the buyer: it only listens, and can change nothing. */
export function startCustomerView(): void {
  show("customer", true);
  document.body.classList.add("for-customer");
  const channel = new BroadcastChannel(customerChannel);
  channel.addEventListener("message", ({ data }) => {
    if (data !== "hello") draw(data as CustomerNews);
  });
  channel.postMessage("hello");
}

function draw({ guild, lines, label, amount, note }: CustomerNews): void {
  show("customer-title", true, guild);
  part("customer-lines").replaceChildren(
    ...lines.map((line) =>
      make(
        "li",
        "sell-line",
        make("span", "sell-line-name", line.name),
        make("span", "till-amount", line.amount),
      ),
    ),
  );
  part("customer-lines").lastElementChild?.scrollIntoView({ block: "nearest" });
  show("customer-empty", lines.length === 0 && note === "");
  show("customer-label", true, label);
  show("customer-amount", true, amount);
  show("customer-note", note !== "", note);
}

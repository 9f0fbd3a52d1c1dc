import { tenderWords } from "../../rules/tender.ts";
import { type Basket, figuresOf, notReady, restOf } from "./basket.ts";
import { copyOf, fill, part, type TillSettings } from "./settings.ts";

/** Draws the totals, what has been taken, and whether the receipt can be recorded. */
export function showPayment(
  basket: Basket,
  settings: TillSettings,
  removeTender: (index: number) => void,
): void {
  const { subtotal, tax, total } = figuresOf(basket, settings.taxRate);
  const rest = restOf(basket, total);
  part("subtotal").textContent = settings.money(subtotal);
  part("tax").textContent = settings.money(tax);
  part("total").textContent = settings.money(total);
  part("tenders").replaceChildren(
    ...basket.tenders.map(({ kind, amount, reference }, index) => {
      const row = copyOf("tender");
      fill(row, "kind", reference ? `${tenderWords[kind]}, ${reference}` : tenderWords[kind]);
      fill(row, "amount", settings.money(amount));
      row.querySelector("button")?.addEventListener("click", () => removeTender(index));
      return row;
    }),
  );
  const paid = basket.tenders.length > 0;
  part("rest-row").hidden = !paid;
  part("rest-label").textContent = rest > 0 ? "Still to pay" : "Change";
  part("rest").textContent = settings.money(Math.abs(rest));
  const reason = notReady(basket, total);
  part<HTMLButtonElement>("record").disabled = reason !== undefined || basket.phase !== "open";
  part("not-ready").textContent = paid && reason ? reason : "";
  for (const key of part("tender-keys").querySelectorAll("button"))
    key.disabled = basket.lines.length === 0 || rest <= 0;
}

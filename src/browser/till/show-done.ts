import type { Basket } from "./basket.ts";
import { part, type TillSettings } from "./settings.ts";

/** Shows either the desk where things are scanned or the finished receipt, never both. */
export function showDone(basket: Basket, settings: TillSettings): void {
  const done = basket.phase === "done" ? basket.recorded : undefined;
  part("desk").hidden = done !== undefined;
  part("done").hidden = done === undefined;
  if (!done) return;
  part("done-name").textContent = done.name;
  part("done-total").textContent = settings.money(done.total);
  part("done-change-row").hidden = done.cashGiven === 0;
  part("done-change").textContent = done.change === 0 ? "none" : settings.money(done.change);
  part("done-given").textContent = settings.money(done.cashGiven);
  part("done-before").hidden = done.recorded === "now";
  part<HTMLAnchorElement>("done-receipt").href = `/receipts/${done.id}`;
  part<HTMLAnchorElement>("done-paper").href = `/receipts/${done.id}/pdf`;
}

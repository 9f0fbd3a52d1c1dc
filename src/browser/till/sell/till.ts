import { v7 } from "uuid";
import type { ReceiptFact } from "../../../contract/till-fact.ts";
import type { TenderKind } from "../../../rules/tender.ts";
import type { TillParts } from "../parts.ts";
import { type Basket, emptyBasket } from "./basket.ts";
import { type DeviceSettings, readDevice } from "./device-settings.ts";
import { type Due, dueAt } from "./figures.ts";
import type { Signal } from "./signal.ts";
import type { Undo } from "./undo.ts";
import { type Words, wordsOf } from "./words.ts";

export type Place = "desk" | "done" | "receipts" | "set-up";

/** Everything that the screen shows; each show-*.ts draws a part of it. */
export interface Shown {
  place: Place;
  basket: Basket;
  signal?: Signal;
  undo?: Undo;
  /** The way to pay whose form is open. */
  paying?: TenderKind;
  /** True while a receipt is being stored: nothing can change then. */
  storing: boolean;
  /** What was just recorded, the money back first in an exchange. */
  done: ReceiptFact[];
  /** Whether these go out by e-mail too; the address itself is in the outbox alone. */
  mailed: "no" | "kept" | "refused";
}

/** The selling screen: one state, one way to change it, and everybody who draws it. */
export class Till {
  readonly newId = (): string => v7();
  shown: Shown;
  device: DeviceSettings = readDevice();
  private readonly drawers: (() => void)[] = [];

  constructor(
    readonly parts: TillParts,
    basket: Basket | undefined,
  ) {
    this.shown = {
      place: "desk",
      basket: basket ?? emptyBasket(v7(), new Date()),
      storing: false,
      done: [],
      mailed: "no",
    };
  }

  get scene() {
    return this.parts.scene();
  }

  get words(): Words {
    return wordsOf(this.scene);
  }

  due(): Due {
    return dueAt(this.scene, this.shown.basket, new Date());
  }

  /** The basket is kept before it is shown, so that a dead battery loses nothing. */
  change(next: Partial<Shown>): void {
    const basket = this.shown.basket;
    this.shown = { ...this.shown, ...next };
    if (this.shown.basket !== basket) void this.keep(this.shown.basket);
    this.draw();
  }

  private async keep(basket: Basket): Promise<void> {
    try {
      await this.parts.baskets.keep(basket);
    } catch {
      // The sale can still be finished or refused; what is gone is only the way back after a crash.
      const words =
        "This device does not keep the basket. Do not close the page before it is paid.";
      this.change({ signal: { kind: "trouble", words } });
    }
  }

  draw(): void {
    for (const draw of this.drawers) draw();
  }

  onChange(draw: () => void): void {
    this.drawers.push(draw);
  }
}

import { make, part, unbroken } from "./dom.ts";
import { type Paper, type PaperRow, type Printed, paperOf } from "./paper-rows.ts";
import { endRollPage, setRollPage } from "./roll-page.ts";
import type { Till } from "./till.ts";

/** Prints receipts on the roll through the browser; a reprint says that it is a copy. */
export function printReceipt(till: Till, receipts: readonly Printed[], copy: boolean): void {
  const place = part("paper");
  place.classList.toggle("paper-58", till.device.roll === 58);
  place.replaceChildren(
    ...receipts.map((one) => paperElement(paperOf(one, till.scene, till.words, copy))),
  );
  document.body.classList.add("printing-receipt");
  setRollPage(place, till.device.roll);
  window.addEventListener(
    "afterprint",
    () => {
      document.body.classList.remove("printing-receipt");
      endRollPage();
      place.replaceChildren();
    },
    { once: true },
  );
  window.print();
}

export function paperElement({
  heading,
  copy,
  title,
  about,
  lines,
  sums,
  foot,
}: Paper): HTMLElement {
  const texts = (all: string[], classes = "") => all.map((text) => make("p", classes, text));
  return make(
    "section",
    "paper-receipt",
    ...texts(heading, "paper-middle"),
    ...(copy ? [make("p", "paper-copy", "COPY")] : []),
    make("h2", "", title),
    ...texts(about),
    rows(lines),
    rows(sums),
    ...texts(foot, "paper-middle"),
  );
}

const rows = (all: PaperRow[]): HTMLElement =>
  make(
    "dl",
    "",
    ...all.map(({ text, figure, strong }) =>
      make(
        "div",
        strong ? "paper-strong" : "",
        make("dt", "", ...unbroken(text)),
        make("dd", "", figure),
      ),
    ),
  );

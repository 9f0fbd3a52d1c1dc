import { type Cells, livePrice } from "./price/live-price.ts";

/** Joins the number and the slider of the page of price help; without it a button does the work. */
const section = document.querySelector<HTMLElement>("#at-price");
if (section) join(section);

function join(at: HTMLElement): void {
  const find = <T extends Element>(selector: string) => at.querySelector<T>(selector)!;
  const number = find<HTMLInputElement>("#f-price");
  const slider = find<HTMLInputElement>("#price-range");
  const warnings = find<HTMLUListElement>("#price-warnings");
  const rows = [...at.querySelectorAll<HTMLElement>("tr[data-rate]")];
  /** In the form above: a price that was chosen stays when hours are changed there. */
  const kept = document.querySelector<HTMLInputElement>("#price-kept")!;
  const live = livePrice({
    scene: at.dataset.scene ?? "",
    rates: rows.map(({ dataset }) => Number(dataset.rate)),
    setNumber: (text) => {
      number.value = text;
    },
    setSlider: (price, words) => {
      slider.value = String(price);
      slider.setAttribute("aria-valuetext", words);
    },
    showRow: (index, cells) => {
      for (const [name, text] of Object.entries(cells) as [keyof Cells, string][])
        rows[index]!.querySelector(`[data-cell="${name}"]`)!.textContent = text;
    },
    showWarnings: (list) => warnings.replaceChildren(...list.map(item)),
    say: (words) => {
      find("#price-said").textContent = words;
    },
  });
  find<HTMLElement>("#price-slider").hidden = false;
  number.addEventListener("input", () => {
    kept.value = number.value;
    live.typed(number.value);
  });
  slider.addEventListener("input", () => {
    live.moved(Number(slider.value));
    kept.value = number.value;
  });
  slider.addEventListener("change", () => live.rested(Number(slider.value)));
  live.typed(number.value);
}

function item(text: string): HTMLLIElement {
  const line = document.createElement("li");
  line.textContent = text;
  return line;
}

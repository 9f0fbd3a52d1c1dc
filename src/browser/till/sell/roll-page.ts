/** Millimetres of the roll that a printer cannot print on: both sides together. */
const edges = 8;
const pixelsPerInch = 96;

let sheet: CSSStyleSheet | undefined;

/**
 * Sets the printed page to the roll's width and the receipt's own length: without it a browser
 * feeds a whole sheet for three lines. A style sheet made by script needs no inline style.
 */
export function setRollPage(paper: HTMLElement, roll: 80 | 58): void {
  const { height } = paper.getBoundingClientRect();
  const length = Math.ceil((height * 25.4) / pixelsPerInch) + 2 * edges;
  sheet ??= new CSSStyleSheet();
  sheet.replaceSync(`@page { size: ${roll}mm ${length}mm; margin: 3mm ${edges / 2}mm; }`);
  if (!document.adoptedStyleSheets.includes(sheet))
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}

/** Other pages of the site print on ordinary paper. */
export function endRollPage(): void {
  document.adoptedStyleSheets = document.adoptedStyleSheets.filter((other) => other !== sheet);
}

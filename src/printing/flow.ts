import type { Face, Faces } from "./fonts.ts";
import { PageInk } from "./ink.ts";
import { wrap } from "./text-fit.ts";

/** The part of a page that running text may fill, in points. */
export interface Area {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/**
 * Pages filled from the top down. `y` is the upper edge of what comes next. `onNewPage` draws what
 * every further page starts with.
 */
export class Flow {
  readonly pages: PageInk[] = [new PageInk()];
  readonly faces: Faces;
  readonly area: Area;
  readonly #onNewPage: (flow: Flow) => void;
  /** What gaps and the padding of tables are multiplied by: less than 1 sets a page closer. */
  readonly closeness: number;
  y: number;

  constructor(faces: Faces, area: Area, onNewPage: (flow: Flow) => void, closeness = 1) {
    this.faces = faces;
    this.area = area;
    this.closeness = closeness;
    this.y = area.top;
    this.#onNewPage = onNewPage;
  }

  get ink(): PageInk {
    return this.pages.at(-1)!;
  }

  get width(): number {
    return this.area.right - this.area.left;
  }

  get room(): number {
    return this.area.bottom - this.y;
  }

  newPage(): void {
    this.pages.push(new PageInk());
    this.y = this.area.top;
    this.#onNewPage(this);
  }

  /** Goes to a new page unless so much height is left on this one. */
  need(height: number): void {
    if (this.room < height) this.newPage();
  }

  space(height: number): void {
    this.y += height;
  }

  /** White that may be closed up. */
  gap(height: number): void {
    this.space(height * this.closeness);
  }

  /** Running text over the whole width, line by line over page ends. */
  paragraph(face: Face, size: number, text: string): void {
    for (const line of wrap(face, text, size, this.width)) {
      this.need(LEADING * size);
      this.ink.text(face, size, this.area.left, this.y + size, line);
      this.y += LEADING * size;
    }
  }
}

/** Line pitch of running text against its size. */
export const LEADING = 1.35;

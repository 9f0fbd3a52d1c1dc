import type { FibreContents, FibreEntry } from "../../../src/rules/labels/contents.ts";
import { fibreLabel } from "../../../src/rules/labels/fibre-label.ts";
import type { FibreCode } from "../../../src/rules/labels/fibres.ts";
import type { Pack } from "../../../src/rules/labels/pack.ts";

export type Shares = Partial<Record<FibreCode, number>>;

export const entries = (
  shares: Shares,
  more: Partial<Record<FibreCode, Partial<FibreEntry>>> = {},
): FibreEntry[] =>
  Object.entries(shares).map(([code, share]) => ({
    fibre: code as FibreCode,
    share,
    ...more[code as FibreCode],
  }));

/** A scarf of one part, by weight. */
export const piece = (
  pack: Pack,
  fibres: FibreEntry[],
  more: Partial<FibreContents> = {},
): FibreContents => ({
  pack,
  kind: "scarf",
  parts: [{ fibres, sharesAre: "weight" }],
  ...more,
});

export const texts = (contents: FibreContents): string[] =>
  fibreLabel(contents).lines.map(({ text }) => text);

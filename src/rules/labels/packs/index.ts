import type { Pack } from "../pack.ts";
import { australia } from "./australia.ts";
import { canada } from "./canada.ts";
import { europeanUnion, unitedKingdom } from "./eu-uk.ts";
import { unitedStates } from "./us.ts";

/** Every country whose law we keep as data. A further one is one more file and one line here. */
export const packs: readonly Pack[] = [
  unitedStates,
  canada,
  europeanUnion,
  unitedKingdom,
  australia,
];

export const findPack = (code: string): Pack | undefined =>
  packs.find((pack) => pack.code === code);

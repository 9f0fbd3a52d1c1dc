import type { Pack } from "../pack.ts";

/** Why harder care than advised wants a test, where the law asks for true words and no basis. */
export const testedCare: Pack["care"]["basis"] = {
  words:
    'Care words have to be true. To choose harder care than advised, wash a sample and tick "I have tested this".',
  source: "House rule",
};

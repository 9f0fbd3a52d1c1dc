import { isNumberOnly } from "./identity-name.ts";
import type { Pack } from "./pack.ts";
import { addRule, houseRule, type Rule } from "./rule.ts";

/** Who answers for a piece. A member's number is ours and means nothing to a buyer. */
export interface MakerDetails {
  /** The name the weaver, or the guild, does business under. */
  businessName?: string;
  address?: string;
  /** The digits of a registered number, with or without its letters. */
  registeredNumber?: string;
}

export interface Identity {
  lines: string[];
  reasons: Rule[];
  refusals: Rule[];
}

/** The line that names the maker or dealer, or why what was given is not an identity. */
export function identityLines(maker: MakerDetails, pack: Pack): Identity {
  const rule = pack.identity;
  const identity: Identity = { lines: [], reasons: [], refusals: [] };
  const name = maker.businessName?.trim() ?? "";
  const address = maker.address?.trim() ?? "";
  const number = registeredNumber(maker.registeredNumber ?? "", pack);
  if (number === "wrong") {
    const words = rule.number
      ? `A registered number looks like ${rule.number.example}.`
      : "There is no registered number for labels here. Print a name instead.";
    addRule(identity.refusals, { ...rule, words });
  }
  if (name !== "" && isNumberOnly(name))
    addRule(identity.refusals, {
      ...rule,
      words: `"${name}" alone does not say who answers for the piece. ${rule.words}`,
    });
  const complete = number !== "" || (name !== "" && !(rule.needsAddress && address === ""));
  if (rule.required && !complete && identity.refusals.length === 0)
    addRule(identity.refusals, rule);
  if (identity.refusals.length > 0) return identity;
  addRule(identity.reasons, rule);
  if (name !== "" && !rule.required) addRule(identity.reasons, houseRule("A name is printed."));
  return { ...identity, lines: [name, address, number].filter(Boolean) };
}

function registeredNumber(typed: string, { identity }: Pack): string {
  const plain = typed.trim();
  if (plain === "") return "";
  if (!identity.number) return "wrong";
  const { prefix, digits } = identity.number;
  const bare = plain.replace(new RegExp(`^${prefix}[\\s:#]*`, "i"), "");
  return digits.test(bare) ? `${prefix} ${bare}` : "wrong";
}

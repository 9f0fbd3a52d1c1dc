import type { PolicyRead } from "../../database/policies.ts";
import type { PolicyNews } from "../../database/policy-news.ts";
import type { SaleRead } from "../../database/sales.ts";
import { policyChanges, policyWords } from "../../rules/policy/words/policy-words.ts";
import type { GuildWords } from "../books/scene.ts";
import { whenText } from "../format.ts";

const versionsOnPage = 10;

interface Parts {
  sale: SaleRead;
  guild: GuildWords;
  /** The newest first. */
  versions: PolicyRead[];
  /** The last version of the page before, or 0. */
  after: number;
  /** Why the policy cannot be changed any more, or undefined. */
  frozen: string | undefined;
}

/** What holds for a sale in whole sentences, and how it came to be. */
export function policyPage({ sale, guild, versions, after, frozen }: Parts) {
  const path = `/sales/${sale.id}/policy`;
  const rest = versions.filter(({ version }) => after === 0 || version < after);
  const shown = rest.slice(0, versionsOnPage);
  return {
    title: "What the guild keeps",
    saleName: sale.name,
    backHref: `/sales/${sale.id}`,
    changeHref: `${path}/change`,
    frozen,
    sections: policyWords(versions[0]!.policy, guild.money),
    versions: shown.map((one) => versionView(one, versions, guild)),
    next: rest.length > shown.length ? `${path}?after=${shown.at(-1)!.version}` : undefined,
  };
}

function versionView(one: PolicyRead, versions: PolicyRead[], guild: GuildWords) {
  const earlier = versions.find(({ version }) => version === one.version - 1);
  if (!earlier) return { ...headOf(one, guild), first: true, changes: [] };
  return newsView({ ...one, before: earlier.policy }, guild);
}

const headOf = ({ version, at, byName, reason }: PolicyRead, guild: GuildWords) => ({
  ...{ version, reason },
  when: whenText(at, guild),
  byName,
});

/** What one version changed, when, by whom and why. */
export const newsView = (news: PolicyNews, guild: GuildWords) => ({
  ...headOf(news, guild),
  changes: policyChanges(news.before, news.policy, guild.money),
});

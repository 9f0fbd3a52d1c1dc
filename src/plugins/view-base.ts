import type { Problem } from "../rules/problem.ts";

export interface NavLink {
  href: string;
  label: string;
  current?: boolean;
}

export interface Notice {
  kind: "good" | "info" | "warn" | "bad";
  text: string;
  title?: string;
}

/** What every page shows around its own content; filled once for each request. */
export interface ViewBase {
  /** Null only before the guild is set up. */
  guild: { name: string; locale: string; currency: string; currencySign: string } | null;
  user: { name: string; href: string; signOutAction: string } | null;
  nav: NavLink[];
  /** The form token of this session; forms send it back as `_csrf`. */
  csrf: string;
  /** The path of this request without its query. */
  path: string;
  helpHref: string;
  /** What the last step did, shown once after a redirect. */
  notice: Notice | null;
}

/** What a page hands to its template, beside the fields that only that template knows. */
export interface PageData {
  title: string;
  layout?: "page" | "bare" | "shell";
  problem?: Problem | null;
  /** What stands in the fields, by field name; a refused form hands back what was typed. */
  values?: unknown;
  /** Names of entry points in src/browser, such as "till.js". */
  scripts?: string[];
  notice?: Notice | null;
  [key: string]: unknown;
}

export const emptyViewBase = (path: string): ViewBase => ({
  guild: null,
  user: null,
  nav: [],
  csrf: "",
  path,
  helpHref: "/help",
  notice: null,
});

declare module "fastify" {
  interface FastifyRequest {
    viewBase: ViewBase | null;
  }
  interface FastifyReply {
    page(template: string, data: PageData, status?: number): FastifyReply;
  }
}

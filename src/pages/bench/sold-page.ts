import {
  groupTitles,
  type SoldReport,
  shownDimensions,
  soldReport,
} from "../../rules/sold/report.ts";
import {
  figureCells,
  givenWords,
  payNote,
  piecesWords,
  soldWords,
  soonWords,
} from "../../rules/sold/words.ts";
import { benchNav } from "./bench-nav.ts";
import { choicesOf, type SoldScene, withFilter } from "./sold-scene.ts";

const path = "/bench/sold";
const list = `${path}/pieces`;

type Shown = (typeof shownDimensions)[number];

/** What sold, across the guild's sales and outlets elsewhere, each part as a chart and a table. */
export function soldPage(scene: SoldScene) {
  const { guild, rows, filter, bandName } = scene;
  const report = soldReport(rows, filter, bandName);
  const { all } = report;
  return {
    title: "What sold",
    ...{ rooms: benchNav(path), path, any: rows.length > 0, isEmpty: all.entered + all.sold === 0 },
    choices: choicesOf(scene, ["where", "year", "kind"]),
    all: {
      ...figureCells(all, guild.money),
      pay: all.pay.perHour === null ? "Not known yet" : guild.money(all.pay.perHour),
      notes: [payNote(all), givenWords(all, guild.money), soonWords(all)].filter(Boolean),
    },
    facts: [...report.facts.kind, ...report.facts.fibre, ...report.facts.colour].length > 0 && [
      { title: "Kinds", list: factLinks(report, scene, "kind") },
      { title: "Main fibres", list: factLinks(report, scene, "fibre") },
      { title: "Colours", list: factLinks(report, scene, "colour") },
    ],
    sections: shownDimensions
      .filter((name) => report.groups[name].length > 0)
      .map((name) => section(report, scene, name)),
    listHref: withFilter(list, filter),
  };
}

const factLinks = (report: SoldReport, { filter }: SoldScene, name: "kind" | "fibre" | "colour") =>
  report.facts[name].map(({ key, words }) => ({
    words,
    href: withFilter(list, filter, { [name]: key }),
  }));

function section({ groups }: SoldReport, { filter, guild }: SoldScene, name: Shown) {
  const [title, what] = groupTitles[name];
  const rows = groups[name].map(({ key, label, figures }) => ({
    ...{
      label,
      href: withFilter(list, filter, { [name]: key }),
      ...figureCells(figures, guild.money),
    },
    // A wait says when a piece sold, so there is no part of it that did not.
    ...(name === "pace" ? { sold: piecesWords(figures.sold) } : {}),
  }));
  return {
    ...{ title, what, rows },
    chart: {
      ...{ id: `by-${name}`, title },
      description:
        "Pieces sold. The same figures stand in the table below. Each bar leads to its pieces.",
      bars: groups[name].map(({ label, figures }, index) => ({
        ...{ label, value: figures.sold, href: rows[index]!.href },
        shown: name === "pace" ? String(figures.sold) : barWords(soldWords(figures)),
      })),
    },
  };
}

/** There is room for counts beside a bar; the percentage stands in the table. */
const barWords = (words: string): string => words.replace(/ \(\d+ %\)/, "");

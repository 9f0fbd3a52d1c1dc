import { noteElsewhere } from "../../actions/bench/keep-elsewhere.ts";
import { noteMaking } from "../../actions/bench/note-making.ts";
import { keepWage } from "../../actions/keep-wage.ts";
import { addSheet } from "../../actions/warp-sheets.ts";
import type { Database } from "../../database/client.ts";
import type { Actor } from "../../database/perform.ts";
import { type PresetCode, presetSheet } from "../../rules/weave/presets.ts";
import { type Cast, must } from "./guild.ts";

/** Hours and yarn for one piece, in the order of a weaver's own guess; invented. */
const making: Readonly<Record<string, [minutes: number, materials: number]>> = {
  towel: [150, 750],
  napkin: [60, 300],
  placemats: [240, 1_200],
  runner: [260, 1_400],
  scarf: [420, 2_100],
  shawl: [640, 3_600],
  cowl: [240, 1_500],
  blanket: [1_320, 9_600],
  rug: [600, 1_800],
};

const yarnPrices: Partial<Record<PresetCode, number>> = { towels: 2_200, scarf: 5_400 };

/** What one weaver keeps for herself: sheets, hours, and sales of which the guild knows nothing. */
export async function keepBench(db: Database, cast: Cast): Promise<void> {
  const weaver = cast.the("member");
  const deed = cast.as(weaver);
  for (const code of ["towels", "scarf"] as const) {
    const { name, sheet } = presetSheet(code, "inch");
    const price = {
      amount: yarnPrices[code] ?? 0,
      per: { thousandths: 1_000, unit: "lb" as const },
    };
    const yarns = sheet.yarns.map((yarn) => ({ ...yarn, price }));
    must(await addSheet(deed, { name, sheet: { ...sheet, yarns } }, new Date()));
  }
  must(await keepWage(deed, 1_800));
  await noteHours(db, cast, weaver);
  for (const { days, ...sale } of elsewhere)
    must(await noteElsewhere(deed, { ...sale, day: daysAgo(days) }));
}

async function noteHours(db: Database, cast: Cast, weaver: Actor): Promise<void> {
  const items = await db.item.findMany({
    where: { memberId: weaver.id },
    include: { kind: true },
  });
  for (const { id, kind } of items) {
    const [minutes, materials] = making[kind.code] ?? [];
    if (minutes)
      must(await noteMaking(cast.as(weaver), id, { minutes, materials: materials ?? null }));
  }
}

const daysAgo = (days: number): string =>
  new Date(Date.now() - days * 86_400_000).toISOString().slice(0, 10);

const unsaid = { colours: "", fibres: [], keptRate: null, keptAmount: null, itemId: null };

const elsewhere = [
  {
    ...{ ...unsaid, days: 40, outlet: "Corner shop", kind: "towel" },
    ...{ description: "Towels, twill", quantity: 3, price: 3_400, keptRate: 40_000 },
    ...{ minutes: 150, materials: 750 },
  },
  {
    ...{ ...unsaid, days: 75, outlet: "Harvest fair", kind: "scarf", colours: "moss and rust" },
    ...{ description: "Scarf, plain weave", quantity: 1, price: 14_500, keptAmount: 1_000 },
    ...{ minutes: 420, materials: 2_100 },
  },
  {
    ...{ ...unsaid, days: 200, outlet: "A friend", kind: "runner" },
    ...{ description: "Runner, huck", quantity: 1, price: 8_800, minutes: null, materials: null },
  },
];

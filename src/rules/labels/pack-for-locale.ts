const byRegion: Readonly<Record<string, string>> = {
  US: "us",
  CA: "canada",
  GB: "uk",
  AU: "australia",
};

/** The members of the European Union, by their codes in ISO 3166. */
const union =
  "AT BE BG HR CY CZ DK EE FI FR DE GR HU IE IT LV LT LU MT NL PL PT RO SK SI ES SE".split(" ");

/** Whose label rules a guild starts with, by the region in its language tag ("fr-CA"). */
export function packForLocale(locale: string): string {
  const region = /-([A-Z]{2})$/i.exec(locale)?.[1]?.toUpperCase() ?? "";
  return union.includes(region) ? "eu" : (byRegion[region] ?? "us");
}

import type { FrozenLine, FrozenStatement } from "../../src/rules/statement.ts";

/** Frozen statements as the settlement leaves them, for the tests of their paper. */

const line: FrozenLine = {
  soldAt: new Date("2027-04-24T15:20:00Z"),
  ...{ tag: "10400113", description: "Twill scarf", quantity: 1, amount: 6_800, rate: 20_000 },
  ...{ ground: "", guildShare: 1_360, cardFee: 0, net: 5_440, donated: false },
};

/** One from before there were policies: no grounds, no items, nothing carried, no year to date. */
export const earlier: FrozenStatement = {
  ...{
    id: "statement",
    number: 17,
    settlementId: "settlement",
    saleId: "sale",
    memberId: "member",
  },
  settledAt: new Date("2027-05-03T10:00:00Z"),
  heading: {
    guildName: "Guild of the Long Shed",
    guildLines: ["1 Warp Lane"],
    ...{ saleName: "Spring sale", firstDay: "2027-04-23", lastDay: "2027-04-25" },
    ...{ memberNumber: 104, memberName: "Zaneta Grosse", currency: "USD", locale: "en-US" },
    ...{ timeZone: "America/New_York", paper: "letter" },
    notes: ["The guild share is 20 % of each line."],
  },
  ...{ gross: 6_800, guildShare: 1_360, cardFee: 0, fees: 0, losses: 0, adjustments: 0 },
  ...{ net: 5_440, carried: 0, due: 5_440, payMethod: null },
  lines: [
    line,
    { ...line, tag: "10400226", description: "Shawl", donated: true, net: 0, guildShare: 6_800 },
  ],
  items: [],
  unsold: [{ tag: "10400339", description: "Runner", quantity: 2, price: 9_500 }],
  payout: null,
};

/** One of a sale whose policy takes the guild's share alone: the ordinary member's. */
export function ordinary(lines: number): FrozenStatement {
  const sold = Array.from({ length: lines }, (_, index) => ({
    ...line,
    tag: String(10_400_000 + index * 101),
    ground: "20 %: 2 to 6 hours of work",
  }));
  const [gross, guildShare] = [6_800 * lines, 1_360 * lines];
  const net = gross - guildShare;
  const notes = [
    "The guild share is worked out for each line and rounded to the nearest coin, half a coin up. The amounts are without sales tax, whether it was added at the till or stood in the price.",
    "The amount is to be paid to you by cheque.",
  ];
  const yearToDate = { year: 2027, gross: gross + 10_000, net: net + 8_000 };
  return {
    ...{ ...earlier, heading: { ...earlier.heading, notes, yearToDate } },
    ...{ gross, guildShare, net, due: net, payMethod: "cheque", lines: sold },
  };
}

/** One with everything that can stand on a statement; what it comes to is held. */
export const full: FrozenStatement = {
  ...ordinary(0),
  lines: [
    { ...line, ground: "20 %: 2 to 6 hours of work", cardFee: 197, net: 5_243 },
    {
      ...{ ...line, tag: "10400226", description: "Yarn, 12 skeins", rate: 30_000 },
      ...{ ground: "30 %: the rate for yarn", guildShare: 2_040, net: 4_760 },
    },
    {
      ...{ ...line, description: "Scarf", quantity: -1, amount: -6_800, guildShare: -1_360 },
      ...{ ground: "20 %: 2 to 6 hours of work", net: -5_440 },
    },
    {
      ...line,
      tag: "10400339",
      donated: true,
      ground: "100 %: given to the guild",
      guildShare: 6_800,
      net: 0,
    },
  ],
  items: [
    { kind: "entry", words: "Entry fee", count: 1, amount: -500 },
    { kind: "late", words: "Fee for late entry, 3 × $2.00", count: 3, amount: -600 },
    { kind: "missed-shift", words: "Missed shift", count: 1, amount: -2_000 },
    { kind: "loss", words: "Missing and made good: 104-003-39 Runner", count: 1, amount: 7_600 },
    {
      kind: "adjustment",
      words: "Adjustment: tag was priced too low at the desk",
      count: 1,
      amount: 150,
    },
    {
      kind: "share-correction",
      words: "Correction of the guild share of the statement before",
      count: 1,
      amount: -25,
    },
  ],
  ...{ gross: 6_800, guildShare: 2_065, cardFee: 197, fees: 3_100, losses: 7_600 },
  ...{ adjustments: 150, net: 9_188, carried: -8_540, due: 0, payMethod: null },
};

/**
 * Notes | coins in use, largest first, in whole units of the currency. A star marks what the law
 * still takes but a drawer seldom holds: it is counted, never offered. All of it from memory
 * (as of 2026); when a coin comes or goes, only this table changes.
 */
export const denominationRows: Readonly<Record<string, string>> = {
  USD: "100 50 20 10 5 2* 1 | 1* 0.50* 0.25 0.10 0.05 0.01",
  CAD: "100 50 20 10 5 | 2 1 0.50* 0.25 0.10 0.05",
  EUR: "500* 200* 100 50 20 10 5 | 2 1 0.50 0.20 0.10 0.05 0.02 0.01",
  GBP: "50 20 10 5 | 2 1 0.50 0.20 0.10 0.05 0.02 0.01",
  AUD: "100 50 20 10 5 | 2 1 0.50 0.20 0.10 0.05",
  NZD: "100 50 20 10 5 | 2 1 0.50 0.20 0.10",
  SEK: "1000* 500 200 100 50 20 | 10 5 2 1",
  NOK: "1000* 500 200 100 50 | 20 10 5 1",
  DKK: "500 200 100 50 | 20 10 5 2 1 0.50",
  CHF: "1000* 200 100 50 20 10 | 5 2 1 0.50 0.20 0.10 0.05",
  JPY: "10000 5000 2000* 1000 | 500 100 50 10 5 1",
};

/** "2-0017": the till and the running number, as it stands on the receipt and as people say it. */
export const showReceiptNumber = (tillNumber: number, number: number): string =>
  `${tillNumber}-${String(number).padStart(4, "0")}`;

/** Reads "2-0017" or "2-17"; undefined for anything else, a tag number among them. */
export function readReceiptNumber(
  text: string,
): { tillNumber: number; number: number } | undefined {
  const [, till, number] = /^\s*(\d{1,3})\s*[-–]\s*(\d{1,7})\s*$/.exec(text) ?? [];
  return till && number ? { tillNumber: Number(till), number: Number(number) } : undefined;
}

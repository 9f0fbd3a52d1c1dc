/** What a count says against the books, in a sentence. */
export function differenceWords(difference: number, money: (amount: number) => string): string {
  if (difference === 0) return "The drawer holds exactly what it should.";
  return difference > 0
    ? `The drawer holds ${money(difference)} more than it should.`
    : `The drawer holds ${money(0 - difference)} less than it should.`;
}

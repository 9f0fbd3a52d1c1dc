/** The form of a policy as a browser sends it: one percentage and nothing else. */
export const policyForm = (more: Record<string, string> = {}): Record<string, string> => ({
  replaces: "1",
  "rates.ordinary": "20",
  ...{ "rates.visitor": "", "rates.committee": "" },
  ...{ "rounding.basis": "line", "rounding.halves": "up" },
  ...{ "fees.entry": "", "fees.firstEntry": "", "fees.late": "", "fees.missedShift": "" },
  "fees.lateFor": "member",
  ...{ "cardFee.way": "guild", "cardFee.rate": "", "cardFee.fixed": "" },
  ...{ "loss.rule": "none", "loss.cap": "", "loss.aboveCap": "" },
  "payout.minimum": "",
  ...{ "payout.tenders.0.method": "cheque", "payout.tenders.0.upTo": "" },
  reason: "",
  ...more,
});

/**
 * The hidden fields of the first form of a page, as a browser sends them on; the tokens are those
 * of the client that sends.
 */
export function hiddenFields(html: string): Record<string, string> {
  const form = html.slice(html.indexOf("<form method")).split("</form>")[0] ?? "";
  const fields = [...form.matchAll(/<input type="hidden" name="([^"]+)" value="([^"]*)">/g)];
  return Object.fromEntries(
    fields
      .filter(([, name]) => !name?.startsWith("_"))
      .map(([, name = "", value = ""]) => [name, value]),
  );
}

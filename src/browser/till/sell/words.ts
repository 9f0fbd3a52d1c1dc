import type { TillSceneShown } from "../../../contract/till-device.ts";
import { formatMoney } from "../../../rules/currency.ts";
import { showReceiptNumber } from "../../../rules/receipt-number.ts";

/** How this guild writes money, moments and receipt numbers. */
export interface Words {
  money(amount: number): string;
  /** "10:42", where the guild's clocks are. */
  time(at: string | Date): string;
  /** "Nov 27, 2026, 10:42". */
  moment(at: string | Date): string;
  /** "2-0017"; of this till, unless another is named. */
  receipt(number: number, tillNumber?: number): string;
}

const made = new WeakMap<TillSceneShown, Words>();

/** Made once for each scene: the browser takes longer to make a clock's form than to draw a line. */
export function wordsOf(scene: TillSceneShown): Words {
  const words = made.get(scene) ?? makeWords(scene);
  made.set(scene, words);
  return words;
}

function makeWords({ guild, till }: TillSceneShown): Words {
  const { locale, timeZone, currency } = guild;
  const clock = new Intl.DateTimeFormat(locale, { timeZone, timeStyle: "short" });
  const day = new Intl.DateTimeFormat(locale, {
    timeZone,
    dateStyle: "medium",
    timeStyle: "short",
  });
  return {
    money: (amount) => formatMoney(amount, currency, locale),
    time: (at) => clock.format(new Date(at)),
    moment: (at) => day.format(new Date(at)),
    receipt: (number, tillNumber = till.number) => showReceiptNumber(tillNumber, number),
  };
}

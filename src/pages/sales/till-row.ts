import type { TillWithDevice } from "../../contract/till-enrolment.ts";
import type { SaleRead } from "../../database/sales.ts";
import { type Region, whenText } from "../format.ts";

/** A till that sells is heard of every few seconds; after this long its line is down. */
const quietAfter = 60_000;

/** A till as its panel shows it: which device it is, how it is, and what can be done. */
export function tillRow(till: TillWithDevice, sale: SaleRead, region: Region, now: Date) {
  const { id, number, name, open, device } = till;
  const path = `/sales/${sale.id}/tills/${id}`;
  return {
    id,
    number,
    name,
    open,
    renameAction: path,
    codeAction: sale.stage === "closed" ? undefined : `${path}/code`,
    codeLabel: device ? "Let its device in again" : "Make a code",
    lostHref: device && !device.lostAt ? `${path}/lost` : undefined,
    device: device && {
      state: stateOf(device, now),
      facts: [
        { label: "Device", value: device.name },
        { label: "Enrolled", value: whenText(device.enrolledAt, region) },
        ...(device.lostAt ? [{ label: "Lost", value: whenText(device.lostAt, region) }] : []),
        {
          label: "Last seen",
          value: device.lastSeenAt ? whenText(device.lastSeenAt, region) : "not yet",
        },
        { label: "Not sent yet", value: unsentText(device.unsent) },
      ],
    },
  };
}

type Device = NonNullable<TillWithDevice["device"]>;

export const unsentText = (unsent: number): string =>
  unsent === 0 ? "nothing" : unsent === 1 ? "1 receipt" : `${unsent} receipts`;

function stateOf({ lostAt, lastSeenAt, unsent }: Device, now: Date) {
  if (lostAt) return { text: "Lost: shut out", kind: "bad", icon: "cross" };
  if (unsent > 0) return { text: "Has not sent everything", kind: "wait", icon: "warn" };
  if (!lastSeenAt) return { text: "Enrolled, not used yet", kind: "plain", icon: "clock" };
  const quiet = now.getTime() - new Date(lastSeenAt).getTime() > quietAfter;
  return quiet
    ? { text: "Not heard of just now", kind: "plain", icon: "clock" }
    : { text: "On line", kind: "good", icon: "check" };
}

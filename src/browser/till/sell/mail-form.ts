import { mailAddress } from "../../../contract/receipt-mail.ts";
import { ask } from "./ask.ts";
import { part, show } from "./dom.ts";
import type { Till } from "./till.ts";

const mayMail = ({ parts, scene, shown }: Till): boolean =>
  shown.place === "done" && scene.mail === true && !parts.practice;

/** Offers the receipt by e-mail where the server can send it, once for each customer. */
export function showMail(till: Till): void {
  const { mailed, done } = till.shown;
  show("done-mail", mayMail(till) && mailed !== "kept");
  const what = done.length > 1 ? "Both receipts go" : "The receipt goes";
  const kept = `${what} out by e-mail as soon as there is a line.`;
  const refused = "This device did not keep the address. Print the receipt instead.";
  show("done-mailed", mailed !== "no", mailed === "kept" ? kept : refused);
}

/** Asks for the address; it goes behind the receipt into the outbox and is kept nowhere else. */
export function askMail(till: Till): void {
  if (!mayMail(till) || till.shown.mailed === "kept") return;
  ask("ask-mail", {
    take({ address = "" }) {
      const read = mailAddress.safeParse(address);
      if (!read.success) return read.error.issues[0]!.message;
      void keep(till, read.data);
      return undefined;
    },
  });
}

async function keep(till: Till, address: string): Promise<void> {
  part<HTMLInputElement>("mail-address").value = "";
  const { done } = till.shown;
  const madeAt = new Date().toISOString();
  const wishes = done.map(({ id }) => ({
    ...{ id: till.newId(), receiptId: id, address, madeAt },
  }));
  const mailed = await till.parts.outbox.recordMails(wishes).then(
    () => "kept" as const,
    () => "refused" as const,
  );
  // The next customer may stand here already: the note belongs to these receipts alone.
  if (till.shown.done === done) till.change({ mailed });
}

export function wireMail(till: Till): void {
  part("done-mail").addEventListener("click", () => askMail(till));
}

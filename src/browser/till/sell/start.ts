import type { TillParts } from "../parts.ts";
import { wireCamera } from "./camera.ts";
import { tellCustomer } from "./customer-news.ts";
import { part, show } from "./dom.ts";
import { wireExempt } from "./exempt-form.ts";
import { finish } from "./finish.ts";
import { showGoods } from "./goods-keys.ts";
import { showHeld, wireHold } from "./hold.ts";
import { listenForKeys } from "./keys.ts";
import { showPracticeKeys } from "./practice-keys.ts";
import { scanForReturn } from "./return-form.ts";
import { listenToScanner } from "./scanner.ts";
import { wireSetUp } from "./set-up.ts";
import { showBack } from "./show-back.ts";
import { showBar, wireBar } from "./show-bar.ts";
import { nextCustomer, showDone, wireDone } from "./show-done.ts";
import { showLines } from "./show-lines.ts";
import { wirePast } from "./show-past.ts";
import { showPayment } from "./show-payment.ts";
import { showSignal } from "./show-signal.ts";
import { showUndo, wireUndo } from "./show-undo.ts";
import { unlockSounds } from "./sounds.ts";
import { takeScan } from "./take-scan.ts";
import { lesson, wireTeaching } from "./teach-scanner.ts";
import { goToPayment, showTenderForm, wireTenderForm } from "./tender-form.ts";
import { Till } from "./till.ts";

/** Opens the selling screen upon the parts that keep and carry. */
export async function startSelling(parts: TillParts): Promise<void> {
  const till = new Till(parts, await parts.baskets.current());
  unlockSounds();
  for (const draw of [
    showPlace,
    showBar,
    showSignal,
    showUndo,
    showBack,
    showLines,
    showPayment,
    showTenderForm,
    showDone,
  ])
    till.onChange(() => draw(till));
  for (const wire of [
    wireBar,
    wireUndo,
    wireHold,
    wireExempt,
    wireTenderForm,
    wireDone,
    wirePast,
    wireTeaching,
    wireSetUp,
    tellCustomer,
  ])
    wire(till);
  wireScanning(till);
  listenForKeys(till);
  part("record").addEventListener("click", () => void finish(till));
  parts.onState(() => till.draw());
  parts.onScene(() => {
    showGoods(till);
    till.draw();
  });
  parts.goods.onChange(() => showBar(till));
  parts.onSeat(() => {
    till.draw();
    if (till.shown.place === "desk") part("scan").focus();
  });
  showGoods(till);
  showPracticeKeys(till);
  await showHeld(till);
  const refusal = parts.outbox.refusal();
  till.change(refusal ? { signal: { kind: "trouble", words: refusal } } : {});
  part("scan").focus();
}

/** Everything that reads a tag ends here: scanner, camera, and the field for typing. */
function wireScanning(till: Till): void {
  const scanned = (text: string) => {
    nextCustomer(till);
    if (!scanForReturn(till, text)) takeScan(till, text);
  };
  listenToScanner({
    settings: () => till.device.scanner,
    tagLength: () => till.scene.guild.tagLength,
    scanned,
    lesson,
  });
  wireCamera(scanned);
  const field = part<HTMLInputElement>("scan");
  part("scan-form").addEventListener("submit", (event) => {
    event.preventDefault();
    const text = field.value;
    field.value = "";
    if (text.trim() === "") goToPayment(till);
    else takeScan(till, text);
  });
}

function showPlace({ shown: { place } }: Till): void {
  for (const id of ["desk", "done", "receipts", "set-up"] as const) show(id, place === id);
}

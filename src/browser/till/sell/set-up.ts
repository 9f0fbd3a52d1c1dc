import { type DeviceSettings, keepDevice } from "./device-settings.ts";
import { key, part } from "./dom.ts";
import { looks } from "./signal.ts";
import { play } from "./sounds.ts";
import type { Till } from "./till.ts";

const sounds = ["added", "here", "sold", "not-in", "unknown", "misread"] as const;

const promised = "This browser has promised to keep them until somebody deletes them.";

/** A browser that says nothing has promised nothing. */
const notPromised =
  "This browser has not promised to keep them if the device runs out of room. Leave some room on it, and do not clear the browser's data while anything is unsent. It often promises once this page is installed as an app: look in the browser's menu, then open the till again.";

/** Loudness, paper and memory of this device. */
export function wireSetUp(till: Till): void {
  const change = (next: Partial<DeviceSettings>) => {
    till.device = { ...till.device, ...next };
    keepDevice(till.device);
  };
  const volume = part<HTMLInputElement>("volume");
  volume.value = String(till.device.volume);
  volume.addEventListener("input", () => change({ volume: Number(volume.value) }));
  const roll = part<HTMLSelectElement>("roll");
  roll.value = String(till.device.roll);
  roll.addEventListener("change", () => change({ roll: roll.value === "58" ? 58 : 80 }));
  part("lasting-words").textContent = till.parts.outbox.lasting() ? promised : notPromised;
  part("try-sounds").replaceChildren(
    ...sounds.map((name) => key(looks[name].title, () => play(name, till.device.volume))),
  );
}

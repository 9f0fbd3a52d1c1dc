import { type DeviceSettings, keepDevice } from "./device-settings.ts";
import { key, part } from "./dom.ts";
import { looks } from "./signal.ts";
import { play } from "./sounds.ts";
import type { Till } from "./till.ts";

const sounds = ["added", "here", "sold", "not-in", "unknown", "misread"] as const;

/** Loudness and paper of this device. */
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
  part("try-sounds").replaceChildren(
    ...sounds.map((name) => key(looks[name].title, () => play(name, till.device.volume))),
  );
}

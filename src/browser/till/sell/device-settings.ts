import { type ScannerSettings, untaught } from "./burst.ts";

/** What belongs to the device and not to the sale: it outlives every cashier and every sale. */
export interface DeviceSettings {
  scanner: ScannerSettings;
  /** 0 is silent, 10 as loud as it goes. */
  volume: number;
  /** Width of the paper roll in millimetres. */
  roll: 80 | 58;
}

const place = "till-settings";
const usual: DeviceSettings = { scanner: untaught, volume: 6, roll: 80 };

export function readDevice(): DeviceSettings {
  try {
    return { ...usual, ...JSON.parse(localStorage.getItem(place) ?? "{}") };
  } catch {
    // A browser that keeps nothing for us, or kept something broken, works with the usual values.
    return usual;
  }
}

/** Says whether the browser took it; the till works on with it either way until it is closed. */
export function keepDevice(settings: DeviceSettings): boolean {
  try {
    localStorage.setItem(place, JSON.stringify(settings));
    return true;
  } catch {
    return false;
  }
}

import { part, show } from "./dom.ts";

/** What we use of the browser's own reader of bar codes, which only some browsers have. */
interface Detector {
  detect(source: HTMLVideoElement): Promise<{ rawValue: string }[]>;
}
type DetectorKind = new (options: { formats: string[] }) => Detector;

const detectorKind = (): DetectorKind | undefined =>
  (globalThis as { BarcodeDetector?: DetectorKind }).BarcodeDetector;

const betweenLooks = 150;
let stream: MediaStream | undefined;

/** Scans with the camera where the browser can; elsewhere says so plainly. */
export function wireCamera(scanned: (text: string) => void): void {
  const Kind = detectorKind();
  const able = Kind !== undefined && navigator.mediaDevices !== undefined;
  show(
    "camera-words",
    true,
    able
      ? "Hold the tag's bar code in front of the camera. A scanner is quicker when there is a queue."
      : "This browser cannot read bar codes with its camera. Use a scanner, or type the number under the bars.",
  );
  const start = show("camera-start", able);
  if (!Kind || !able) return;
  start.addEventListener("click", () => {
    if (stream) stop();
    else void run(new Kind({ formats: ["code_128"] }), scanned);
  });
}

async function run(detector: Detector, scanned: (text: string) => void): Promise<void> {
  const video = part<HTMLVideoElement>("camera");
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  } catch {
    // The person said no, or there is no camera: both are told in the same words.
    show(
      "camera-words",
      true,
      "The camera did not start. Allow it for this page, or use a scanner.",
    );
    return;
  }
  video.srcObject = stream;
  video.hidden = false;
  part("camera-start").textContent = "Stop the camera";
  await video.play();
  let last = "";
  while (stream) {
    const [found] = await detector.detect(video);
    if (found && found.rawValue !== last) scanned(found.rawValue);
    last = found?.rawValue ?? "";
    await new Promise((resolve) => setTimeout(resolve, betweenLooks));
  }
}

function stop(): void {
  for (const track of stream?.getTracks() ?? []) track.stop();
  stream = undefined;
  part("camera").hidden = true;
  part("camera-start").textContent = "Scan with the camera";
}

/** Reads codes with the tablet's camera, if the browser has BarcodeDetector (W3C, Accelerated Shape Detection in Images). */

interface Detector {
  detect(source: HTMLVideoElement): Promise<{ rawValue: string }[]>;
}
type DetectorClass = new (options: { formats: string[] }) => Detector;

declare global {
  var BarcodeDetector: DetectorClass | undefined;
}

const detectorClass = (): DetectorClass | undefined => globalThis.BarcodeDetector;

export const canSee = (): boolean =>
  detectorClass() !== undefined && navigator.mediaDevices?.getUserMedia !== undefined;

const LOOK_MS = 200;
/** A label held before the camera is not read again within this time. */
const SAME_MS = 3000;

/** @param onOff called when there is no camera or its use is refused @returns a function that stops it */
export function lookForCodes(
  video: HTMLVideoElement,
  onCode: (text: string) => void,
  onOff: () => void,
): () => void {
  const detector = new (detectorClass()!)({ formats: ['qr_code'] });
  let stream: MediaStream | null = null;
  let isOver = false;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const seen = new Map<string, number>();
  const look = async () => {
    for (const { rawValue } of await detector.detect(video).catch(() => [])) {
      const atMs = performance.now();
      if (atMs - (seen.get(rawValue) ?? Number.NEGATIVE_INFINITY) < SAME_MS) continue;
      seen.set(rawValue, atMs);
      onCode(rawValue);
    }
    if (!isOver) timer = setTimeout(look, LOOK_MS);
  };
  navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } }).then(
    async (given) => {
      stream = given;
      if (isOver) return end();
      video.srcObject = given;
      await video.play();
      await look();
    },
    () => onOff(),
  );
  const end = () => {
    isOver = true;
    clearTimeout(timer);
    for (const track of stream?.getTracks() ?? []) track.stop();
  };
  return end;
}

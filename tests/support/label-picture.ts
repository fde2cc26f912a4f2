/** A printed label as a picture, and a published reader of QR codes (jsqr) to read it. */
import jsqr from 'jsqr';
import { codeModules, codePlaces, LABEL_MM, MODULE_MM } from '../../src/paper/labels/label-sheet.ts';

/** A module is three pixels wide, as in the picture of a plain camera. */
const PX_PER_MM = 4;
const WIDTH = LABEL_MM.width * PX_PER_MM;
const HEIGHT = LABEL_MM.height * PX_PER_MM;

export interface Picture {
  width: number;
  height: number;
  rgba: Uint8ClampedArray;
}

/** @param stain whether a place is covered, mm from the label's corner, and with what gray */
export function labelPicture(
  code: string,
  stain: (xMm: number, yMm: number) => number | null = () => null,
): Picture {
  const { size, isDark } = codeModules(code);
  const places = codePlaces(size);
  const rgba = new Uint8ClampedArray(WIDTH * HEIGHT * 4);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const [xMm, yMm] = [(x + 0.5) / PX_PER_MM, (y + 0.5) / PX_PER_MM];
      const isInk = places.some((place) =>
        isDark(Math.floor((xMm - place.xMm) / MODULE_MM), Math.floor((yMm - place.yMm) / MODULE_MM)),
      );
      const gray = stain(xMm, yMm) ?? (isInk ? 0 : 255);
      rgba.set([gray, gray, gray, 255], (y * WIDTH + x) * 4);
    }
  return { width: WIDTH, height: HEIGHT, rgba };
}

/** The part at which a person points a scanner: one end of the label. */
export function half({ width, height, rgba }: Picture, side: 'left' | 'right'): Picture {
  const part = Math.floor(width / 2);
  const from = side === 'left' ? 0 : width - part;
  const cut = new Uint8ClampedArray(part * height * 4);
  for (let y = 0; y < height; y++)
    cut.set(rgba.subarray((y * width + from) * 4, (y * width + from + part) * 4), y * part * 4);
  return { width: part, height, rgba: cut };
}

/** jsqr is a CommonJS module: some loaders put its export one level deeper. */
const read = (jsqr as unknown as { default?: typeof jsqr }).default ?? jsqr;

export const readQr = ({ width, height, rgba }: Picture): string | null =>
  read(rgba, width, height)?.data ?? null;

export const readEither = (picture: Picture): string | null =>
  readQr(half(picture, 'left')) ?? readQr(half(picture, 'right'));

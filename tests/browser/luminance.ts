/** How bright a page is: mean relative luminance of all its pixels, by the definition in WCAG 2.2 ("relative luminance"). */
import type { Page } from 'playwright-core';

/** @returns cd/m² of the page as a share of its white */
export async function meanLuminance(page: Page, tab: Page): Promise<number> {
  const png = (await page.screenshot({ animations: 'disabled' })).toString('base64');
  return tab.evaluate(async (encoded) => {
    const blob = await (await fetch(`data:image/png;base64,${encoded}`)).blob();
    const picture = await createImageBitmap(blob);
    const pen = new OffscreenCanvas(picture.width, picture.height).getContext('2d')!;
    pen.drawImage(picture, 0, 0);
    const { data } = pen.getImageData(0, 0, picture.width, picture.height);
    const linear = Array.from({ length: 256 }, (_, level) => {
      const share = level / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    let sum = 0;
    for (let i = 0; i < data.length; i += 4)
      sum += 0.2126 * linear[data[i]!]! + 0.7152 * linear[data[i + 1]!]! + 0.0722 * linear[data[i + 2]!]!;
    return sum / (data.length / 4);
  }, png);
}

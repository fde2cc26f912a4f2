/** How a graph on the page is asked for. */
import type { VolumeUnit } from '../../base/units.ts';
import type { Language } from '../../pacing/index.ts';

export interface GraphOptions {
  /** Width to draw for, CSS pixels. */
  widthPx: number;
  volumeUnit: VolumeUnit;
  /** `inline` takes its ink and ground from the page around it; `light` is whole in itself, for a file. */
  theme: 'light' | 'inline';
  language: Language;
  /** False where the page around it says the sentence and the date. */
  hasHeading: boolean;
  /** False where the page around it says what the band is and where the numbers come from. */
  hasNotes: boolean;
}

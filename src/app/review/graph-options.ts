/** Options of a graph on the page. */
import type { VolumeUnit } from '../../base/units.ts';
import type { Language } from '../../pacing/index.ts';

export interface GraphOptions {
  /** Width to draw for, CSS pixels. */
  widthPx: number;
  volumeUnit: VolumeUnit;
  /** `inline` uses the page's colors; `light` has its own, for a file. */
  theme: 'light' | 'inline';
  language: Language;
  /** False if the page itself shows the sentence and the date. */
  hasHeading: boolean;
  /** False if the page itself explains the band and the sources. */
  hasNotes: boolean;
}

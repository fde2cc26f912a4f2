/** The sleeve's own light while no host guides: a short weak light from time to time, much dimmer than any cue. */
import type { Light } from './firmata-pins.ts';

const GLIMMER: Light = { red: 16, green: 12, blue: 6 };
const PERIOD_SEC = 6;
const ON_SEC = 0.6;

export const noGuidanceLight = (atSec: number): Light =>
  atSec % PERIOD_SEC < ON_SEC ? { ...GLIMMER } : { red: 0, green: 0, blue: 0 };

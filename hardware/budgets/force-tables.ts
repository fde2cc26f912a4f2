/** Budgets of forces on the cells and of what the converters make of them, as Markdown tables. */
import { millivoltsAt, minutesLeft, WARN_MIN } from '../../src/base/battery-gauge.ts';
import { BOTTLE } from '../bottle.ts';
import { PLACES, WIRE } from '../design.ts';
import { REFERENCE_SHARE, warning, warningSpreadMin } from './battery.ts';
import { CELL_DATA, CONVERTER_DATA, ratedN, supportStiffnessNPerMm } from './cells.ts';
import {
  carried,
  cellForces,
  HOLDS,
  type Hold,
  MOUTH_ENVELOPE_N,
  MOUTHS,
  NO_MOUTH,
  worstForces,
} from './holds.ts';
import { loads, num, type Row, table } from './markdown.ts';
import { cupLoad } from './mass.ts';
import { batteryMa, totalMa } from './power.ts';
import {
  BUTTON_CELL,
  cellNoise,
  countNv,
  creepGrams,
  fullScaleMv,
  gramsPerCount,
  type Misplaced,
  milkNoiseGrams,
  misplacedGrams,
  ratedMv,
  warmingGrams,
} from './resolution.ts';
import {
  axialGrams,
  balanceGrams,
  bucklingMargins,
  bypassShares,
  linkStrays,
  sideOnCellGrams,
  strutStrays,
} from './stray.ts';

const holdName = (hold: Hold) => (hold.tiltDeg === 0 ? hold.name : `${hold.name}, roll ${hold.rollDeg}°`);
export function forceTable(): string {
  const { full } = loads();
  const rows = HOLDS.map((hold): Row => {
    const rest = cellForces(full, hold);
    const worst = worstForces(full, hold);
    const largest = Math.max(Math.abs(worst.axialN), Math.abs(worst.frontN), Math.abs(worst.rearN));
    const pair = (a: number, b: number) => `${num(a)} / ${num(b)}`;
    return [
      holdName(hold),
      pair(rest.axialN, worst.axialN),
      pair(rest.frontN, worst.frontN),
      pair(rest.rearN, worst.rearN),
      num(rest.sideN),
      num(ratedN / largest),
    ];
  });
  return `Carried: ${num(full.massGrams, 0)} g (cup and liner ${num(cupLoad().massGrams)} g, bottle ${BOTTLE.emptyMassGrams} g, milk ${BOTTLE.fullMl} mL). Rated load of every cell: ${num(ratedN, 2)} N (${CELL_DATA.ratedGrams} g). Newtons, at rest / worst with ${MOUTH_ENVELOPE_N} N of the mouth in any direction.

${table(['hold', 'axial', 'front', 'rear', 'side (links)', 'rated ÷ worst'], rows)}`;
}
export function strayTable(): string {
  const { full, half } = loads();
  const rows = HOLDS.map((hold): Row => {
    const all = MOUTHS.map(({ mouth }) => mouth);
    const worst = (f: (mouth: (typeof all)[number]) => number) =>
      num(Math.max(...all.map((m) => Math.abs(f(m)))), 2);
    return [
      holdName(hold),
      num(Math.abs(balanceGrams(linkStrays(full, half, hold, NO_MOUTH))), 2),
      worst((m) => balanceGrams(linkStrays(full, half, hold, m))),
      num(Math.abs(axialGrams(linkStrays(full, half, hold, NO_MOUTH))), 2),
      worst((m) => sideOnCellGrams(full, hold, m)),
      num(Math.abs(balanceGrams(strutStrays(full, half, hold, NO_MOUTH))), 2),
      worst((m) => balanceGrams(strutStrays(full, half, hold, m))),
    ];
  });
  const share = bypassShares();
  const buckling = bucklingMargins(full, { name: 'level', tiltDeg: 90, rollDeg: 45 }, NO_MOUTH, ratedN);
  return `${table(
    [
      'hold',
      'links, milk',
      'links, milk, mouth pushing',
      'links, weighing',
      'side on a cell',
      'struts, milk',
      'struts, milk, mouth pushing',
    ],
    rows,
  )}

- Wires that bend beside the cells carry ${num(share.x * 100)} % of the x load and ${num(share.z * 100)} % of the z load: steel, linear, constant, so the calibration holds them.
- Support of the cup at one cell: ${num(supportStiffnessNPerMm(), 0)} N/mm. Links Ø ${WIRE.linkDiameterMm} mm, struts Ø ${WIRE.strutDiameterMm} × ${WIRE.strutLengthMm} mm.
- Buckling load over the greatest load: links ${num(buckling.link)}, struts at rated load ${num(buckling.strut)}.`;
}
export function resolutionTable(): string {
  const { full } = loads();
  const { grams, counts } = cellNoise();
  const rows: Row[] = [
    [
      'full scale of the converter',
      `±${num(fullScaleMv(CONVERTER_DATA.excitationV, CONVERTER_DATA.gain))} mV`,
    ],
    [
      'cell at rated load',
      `${num(ratedMv())} mV (${num((100 * ratedMv()) / fullScaleMv(CONVERTER_DATA.excitationV, CONVERTER_DATA.gain), 0)} % of it)`,
    ],
    ['one count', `${num(countNv(), 2)} nV = ${num(gramsPerCount() * 1000, 2)} mg`],
    ['noise of one cell, each reading', `${num(counts, 0)} counts rms = ${num(grams * 1000, 0)} mg rms`],
    ['noise of milk, level, each reading', `${num(milkNoiseGrams(1) * 1000, 0)} mg rms`],
    ['noise of milk, level, mean of 1 s', `${num(milkNoiseGrams(80) * 1000, 0)} mg rms`],
    [
      `for comparison: a ${BUTTON_CELL.ratedGrams / 1000} kg button cell, each reading`,
      `${num(cellNoise(BUTTON_CELL).grams * 1000, 0)} mg rms, and drifts ${num(BUTTON_CELL.ratedGrams / CELL_DATA.ratedGrams, 0)} times as far`,
    ],
    ['one transverse cell 5 K warmer', `${num(warmingGrams(5), 1)} g of milk, slowly`],
    ['creep of the cells in 20 minutes', `${num(creepGrams(full), 1)} g`],
  ];
  return table(['what', 'how much'], rows);
}
export function placeTable(): string {
  const { full } = loads();
  const lighter = carried(cupLoad(), BOTTLE.fullMl - 100);
  const level: Hold = { name: 'level', tiltDeg: 90, rollDeg: 0 };
  const rows = (['front cell', 'rear cell', 'tip of the nipple'] as const satisfies Misplaced[]).map(
    (what): Row => [
      what,
      what === 'tip of the nipple'
        ? BOTTLE.teatTipZMm
        : what === 'front cell'
          ? PLACES.frontZMm
          : PLACES.rearZMm,
      num(misplacedGrams(what, 1, full, level)),
      num(misplacedGrams(what, 1, full, level) - misplacedGrams(what, 1, lighter, level)),
    ],
  );
  return table(
    ['1 mm error of the', 'place z, mm', 'shift of the milk, g', 'error in 100 mL drunk, g'],
    rows,
  );
}
export function gaugeTable(): string {
  const load = batteryMa(totalMa('usualMa'));
  const { percent, millivolts } = warning();
  const [least, most] = warningSpreadMin();
  const rows = [100, 80, 60, 40, 20, 10, 5].map(
    (full): Row => [
      full,
      num(millivoltsAt(full, 0), 0),
      num(millivoltsAt(full, load), 0),
      num(minutesLeft(full), 0),
    ],
  );
  return `${table(['full, %', 'cell at rest, mV', 'in use, mV', 'minutes left'], rows)}

Warning once, ${WARN_MIN} minutes before the end: at ${num(percent, 0)} %, ${num(millivolts, 0)} mV in use. With the reference off by ${REFERENCE_SHARE * 100} % and the leakage of the pin it comes ${num(least, 0)} to ${num(most, 0)} minutes before.`;
}

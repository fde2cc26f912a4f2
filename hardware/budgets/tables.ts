/** The budgets as Markdown tables, for the marked places of hardware/BUDGETS.md. */
import { millivoltsAt, minutesLeft, WARN_MIN } from '../../src/base/battery-gauge.ts';
import {
  BOTTLE,
  FIT,
  GRIP,
  PLACES,
  SIDE_GAP_MM,
  SMALL_BOTTLE,
  SMALL_CUP,
  STOP_GAP_MM,
  WIRE,
} from '../design.ts';
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
import { lineBytesPerSec, lineUse, onLineMs, RADIO } from './line.ts';
import { loads, num, type Row, table } from './markdown.ts';
import { cupLoad } from './mass.ts';
import { dropTable, massTable, seatTable, stopTable } from './mount-tables.ts';
import {
  BATTERY,
  batteryHours,
  batteryMa,
  CONSUMERS,
  minutesAfterSupplyLow,
  SKIN,
  totalMa,
  warmsByK,
} from './power.ts';
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
  EAR_CM,
  hourDba,
  loudestSecondDba,
  MOST_SOUNDS_AN_HOUR,
  NURSERY,
  SOUNDS_AN_HOUR,
  toneDba,
  toTakeOffDb,
} from './sound.ts';
import {
  axialGrams,
  balanceGrams,
  bucklingMargins,
  bypassShares,
  linkStrays,
  sideOnCellGrams,
  strutStrays,
} from './stray.ts';
import { alongErrorG, BEHIND_BOTTLE_MM, TURN_RAD_PER_S2, turningErrors } from './turning.ts';

const holdName = (hold: Hold) => (hold.tiltDeg === 0 ? hold.name : `${hold.name}, roll ${hold.rollDeg}°`);

function forceTable(): string {
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

function strayTable(): string {
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

function resolutionTable(): string {
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

function placeTable(): string {
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

function powerTable(): string {
  const rows = CONSUMERS.map(
    (each): Row => [each.part, num(each.usualMa), num(each.greatestMa), each.source],
  );
  const [usual, greatest] = [totalMa('usualMa'), totalMa('greatestMa')];
  return `${table(
    ['part', 'usual, mA', 'greatest mean, mA', 'from'],
    [
      ...rows,
      ['**all, at 5 V**', `**${num(usual)}**`, `**${num(greatest)}**`, ''],
      [
        'out of the battery',
        num(batteryMa(usual), 0),
        num(batteryMa(greatest), 0),
        `booster ${BATTERY.boosterEfficiency * 100} %, ${BATTERY.nominalV} V`,
      ],
      [
        'hours from full to empty',
        num(batteryHours(usual)),
        num(batteryHours(greatest)),
        `${BATTERY.capacityMah} mAh, ${BATTERY.usableFraction * 100} % usable`,
      ],
      ['feeds of 20 minutes', num(batteryHours(usual) * 3, 0), num(batteryHours(greatest) * 3, 0), ''],
      [
        'minutes after "supply low"',
        num(minutesAfterSupplyLow(usual), 0),
        num(minutesAfterSupplyLow(greatest), 0),
        `${BATTERY.leftAtBoosterDropout * 100} % left when the booster lets go`,
      ],
      [
        'skin of the shell above the room, K',
        num(warmsByK(usual)),
        num(warmsByK(greatest)),
        `${SKIN.cm2} cm², ${SKIN.wattsPerM2K} W/(m²·K)`,
      ],
    ],
  )}`;
}

function gaugeTable(): string {
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

function radioTable(): string {
  const both = lineUse()[2]!.bytesPerSec;
  return table(
    ['what', 'how much', 'from'],
    [
      ['sent by the sleeve', `${num(both, 0)} bytes/s`, 'serial line, above'],
      ['the module’s serial side', `${num(lineBytesPerSec, 0)} bytes/s`, '115200 baud, 8N1'],
      ['margin of the serial side', num(lineBytesPerSec / both, 1), ''],
      [
        'over the air, one-slot packets',
        `${num(RADIO.oneSlotBytesPerSec, 0)} bytes/s`,
        'DH1 symmetric, 172.8 kbit/s (Bluetooth Core, baseband; from memory)',
      ],
      ['margin over the air with every second packet lost', num(RADIO.oneSlotBytesPerSec / 2 / both, 1), ''],
      ['waits while the air is taken', `${RADIO.worstDelayMs} ms`, 'what the host must take (requirement)'],
      [
        'bytes that wait then',
        num((both * RADIO.worstDelayMs) / 1000, 0),
        `the module must hold ${RADIO.bufferBytes} (requirement)`,
      ],
      [
        'range, indoors',
        `${RADIO.rangeM} m`,
        'power class 2 (2.5 mW), a wall in between; common practice, no source: the check measures it',
      ],
    ],
  );
}

function soundTable(): string {
  const row = (what: string, of: (earCm: number) => number, guideline: string): Row => [
    what,
    ...EAR_CM.map((earCm) => num(of(earCm), 0)),
    guideline,
  ];
  const rows = [
    row('while a tone sounds', toneDba, ''),
    row('loudest second', loudestSecondDba, String(NURSERY.loudestSecondDba)),
    row(
      `an hour with ${SOUNDS_AN_HOUR} sounds`,
      (cm) => hourDba(cm, SOUNDS_AN_HOUR),
      String(NURSERY.hourDba),
    ),
    row('an hour of sounds without end', (cm) => hourDba(cm, MOST_SOUNDS_AN_HOUR), String(NURSERY.hourDba)),
  ];
  const head = ['by the data sheet, dBA', ...EAR_CM.map((earCm) => `ear at ${earCm} cm`), 'guideline'];
  return `${table(head, rows)}\n\nTo bring a single tone under ${NURSERY.hourDba} dBA at ${EAR_CM[0]} cm, ${num(toTakeOffDb(), 0)} dB must go.`;
}

function fitTable(): string {
  return table(
    ['what', 'mm'],
    [
      ['thinnest printed wall', FIT.minWallMm],
      ['liner', FIT.minLinerWallMm],
      ['cup side to shell side, least', FIT.minClearanceMm],
      ['stop pin in its hole, all round', num(STOP_GAP_MM, 2)],
      ['foot to spacer, either side', num(SIDE_GAP_MM, 2)],
      ['bottle Ø', BOTTLE.diameterMm],
      ['small bottle Ø, in the small cup', SMALL_BOTTLE.diameterMm],
      ['small bottle’s base above the wide one’s', SMALL_CUP.liftMm],
      ['grip Ø', GRIP.diameterMm],
      ['grip length', num(GRIP.lengthMm)],
    ],
  );
}

function turningTable(): string {
  const errors = turningErrors(cupLoad());
  const grams = (pick: 'behindG' | 'hereG') =>
    num(errors.reduce((sum, { massGrams, ...each }) => sum + massGrams * each[pick], 0));
  const milligrams = (g: number) => `${num(g * 1000)} mg`;
  const place = (mm: readonly number[]) => `[${mm.map((v) => Number(v.toFixed(1))).join(', ')}]`;
  const here = PLACES.accelerometerMm;
  return `${table(
    [
      'force felt by',
      'z, mm',
      `accelerometer behind the bottle, ${place(BEHIND_BOTTLE_MM)}`,
      `as built, ${place(here)}`,
    ],
    [
      ...errors.map(
        ({ what, zMm, behindG, hereG }): Row => [what, num(zMm), milligrams(behindG), milligrams(hereG)],
      ),
      ['**weight of it all**, full bottle', '', `**${grams('behindG')} g**`, `**${grams('hereG')} g**`],
      [
        'either, along the bottle',
        '',
        milligrams(alongErrorG(BEHIND_BOTTLE_MM)),
        milligrams(alongErrorG(here)),
      ],
    ],
  )}

Error of the force felt across the bottle, α·Δz/g0, and of the weight that follows from it, while the tilt is accelerated by ${TURN_RAD_PER_S2} rad/s²; along the bottle α·x/g0.`;
}

function lineTable(): string {
  const rows = lineUse().map(
    ({ what, bytes, bytesPerSec }): Row => [
      what,
      bytes,
      num(bytesPerSec, 0),
      `${num((100 * bytesPerSec) / lineBytesPerSec, 0)} %`,
      num(onLineMs(bytes)),
    ],
  );
  return `${table(['message', 'bytes', 'bytes a second', 'of the line', 'under way, ms'], rows)}

The line carries ${num(lineBytesPerSec, 0)} bytes a second.`;
}

/** Table by the name of its place in BUDGETS.md. */
export const BUDGET_TABLES: Readonly<Record<string, () => string>> = {
  fit: fitTable,
  mass: massTable,
  forces: forceTable,
  stray: strayTable,
  resolution: resolutionTable,
  places: placeTable,
  seat: seatTable,
  stops: stopTable,
  drop: dropTable,
  power: powerTable,
  gauge: gaugeTable,
  radio: radioTable,
  sound: soundTable,
  turning: turningTable,
  line: lineTable,
};

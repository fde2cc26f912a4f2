/** The budgets as Markdown tables, for the marked places of hardware/BUDGETS.md. */
import { BOTTLE, FIT, GRIP, PLACES, SIDE_GAP_MM, SMALL_BOTTLE, SMALL_CUP, STOP_GAP_MM } from '../design.ts';

import { forceTable, gaugeTable, placeTable, resolutionTable, strayTable } from './force-tables.ts';
import { lineBytesPerSec, lineUse, onLineMs, RADIO } from './line.ts';
import { num, type Row, table } from './markdown.ts';
import { cupLoad } from './mass.ts';
import { dropTable, massTable, seatTable, sideFallTable, stopTable } from './mount-tables.ts';
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
  EAR_CM,
  hourDba,
  loudestSecondDba,
  MOST_SOUNDS_AN_HOUR,
  NURSERY,
  SOUNDS_AN_HOUR,
  toneDba,
  toTakeOffDb,
} from './sound.ts';
import { alongErrorG, BEHIND_BOTTLE_MM, TURN_RAD_PER_S2, turningErrors } from './turning.ts';

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
  sides: sideFallTable,
  power: powerTable,
  gauge: gaugeTable,
  radio: radioTable,
  sound: soundTable,
  turning: turningTable,
  line: lineTable,
};

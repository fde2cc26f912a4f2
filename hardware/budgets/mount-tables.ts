/** Budgets of the mount as Markdown tables: mass, seats of the cells, stops, falls. */
import { keysOf } from '../../src/base/typed.ts';
import { BOUGHT } from '../bought-parts.ts';
import {
  BOTTLE,
  DENSITY,
  GRIP,
  HARD_MATERIALS,
  type HardMaterial,
  MAX_ADDED_MASS_GRAMS,
  SEAT,
  SIDE_GAP_MM,
  STOP_GAP_MM,
  WIRE,
} from '../design.ts';
import { madeLines } from '../parts.ts';
import { linkLengthsMm } from '../shape/cup-side.ts';
import { CELL_DATA, ratedN } from './cells.ts';
import { bentOutStressMPa, DROP, fallMargins, GROUNDS, peakForceN, safeFallMm } from './drop.ts';
import { HOLDS, MOUTH_ENVELOPE_N, worstForces } from './holds.ts';
import { loads, num, type Row, table } from './markdown.ts';
import { massBudget } from './mass.ts';
import {
  boreLeavesMm,
  clampHoldsN,
  glueHoldsN,
  SPRING_SPREAD,
  SPRING_WIRE,
  seatMargin,
  springFreeMm,
  springRateNPerMm,
  springSolidMm,
  springStressMPa,
  useMargin,
  yieldedN,
  yieldN,
} from './seat.ts';
import { linkShares, safeSideFallMm, sideFallMargins } from './side-fall.ts';
import {
  loadMovesMm,
  SETTING_MM,
  SQUEEZE_MOVES_MM,
  SQUEEZE_N,
  stopRoom,
  tipYieldsN,
  WARMER_K,
  warmthMm,
} from './stops.ts';

export function massTable(): string {
  const [pa12, asa] = [massBudget('pa12'), massBudget('asa')];
  const rows = BOUGHT.filter((line) => line.massGrams >= 0.05).map(
    (line): Row => [
      `${line.part}${line.option ? ' (not counted)' : ''}`,
      num(line.massGrams),
      num(line.massGrams),
    ],
  );
  const inAsa = madeLines('asa');
  const made = madeLines('pa12').map(
    (line, i): Row => [
      `${line.part}${line.part === 'small cup' ? ' (in place of the liner; not counted)' : ''}`,
      num(line.massGrams),
      num(inAsa[i]!.massGrams),
    ],
  );
  const sums = (name: string, pick: keyof ReturnType<typeof massBudget>): Row => [
    name,
    `**${num(pa12[pick])}**`,
    `**${num(asa[pick])}**`,
  ];
  const hardMm3 = madeLines('pa12')
    .filter(({ rating }) => rating.startsWith('PA12'))
    .reduce((sum, line) => sum + line.massGrams / DENSITY.pa12, 0);
  const petg = pa12.totalGrams + hardMm3 * (DENSITY.petg - DENSITY.pa12);
  return `${table(
    ['part', `${HARD_MATERIALS.pa12.name}, g`, `${HARD_MATERIALS.asa.name}, g`],
    [
      ...rows,
      ...made,
      sums('**printed and cut**, from the meshes', 'madeGrams'),
      sums('**bought**', 'boughtGrams'),
      sums('**sleeve without the bottle**', 'totalGrams'),
      [`left of ${MAX_ADDED_MASS_GRAMS} g`, num(pa12.leftGrams), num(asa.leftGrams)],
    ],
  )}

Densities, g/cm³, from memory of the usual tables: PA12 ${DENSITY.pa12}, ASA ${DENSITY.asa}, PETG ${DENSITY.petg}, TPU ${DENSITY.tpu}, PET film ${DENSITY.petFilm}. In PETG the sleeve would weigh ${num(petg, 0)} g: more than ${MAX_ADDED_MASS_GRAMS} g, so it is not one of the two materials. Grip Ø ${GRIP.diameterMm} mm.`;
}

const HARD = keysOf(HARD_MATERIALS);

export function seatTable(): string {
  const { full } = loads();
  const worst = Math.max(
    ...HOLDS.map((hold) => worstForces(full, hold)).flatMap(({ axialN, frontN, rearN }) =>
      [axialN, frontN, rearN].map(Math.abs),
    ),
  );
  return table(
    ['what', 'how much', 'limit', 'margin'],
    [
      ['spring: rate, free length', `${num(springRateNPerMm())} N/mm, ${num(springFreeMm(), 2)} mm`, '', ''],
      [
        'spring: set length, pressed solid',
        `${num(SEAT.setLengthMm, 2)} mm`,
        `${num(springSolidMm(), 2)} mm`,
        `${num(SEAT.setLengthMm - springSolidMm(), 2)} mm`,
      ],
      [
        'spring: shear stress',
        `${num(springStressMPa(), 0)} MPa`,
        `${num(SPRING_WIRE.allowedShare * SPRING_WIRE.tensileStrengthMPa, 0)} MPa`,
        num((SPRING_WIRE.allowedShare * SPRING_WIRE.tensileStrengthMPa) / springStressMPa(), 2),
      ],
      [
        'seat gives way, pushed / pulled',
        `${num(yieldN('push'))} / ${num(yieldN('pull'))} N`,
        `${num(worst)} N in use`,
        `${num(useMargin(worst), 2)} with springs ${num(SPRING_SPREAD * 100, 0)} % weak`,
      ],
      [
        'cell, cup moved by 1 mm',
        `${num(yieldedN('pull', 1))} N`,
        `${num(CELL_DATA.safeOverload * ratedN)} N safe`,
        `${num(seatMargin(1), 2)} with springs ${num(SPRING_SPREAD * 100, 0)} % strong`,
      ],
      [
        'set screw on the wire',
        `${num(yieldedN('pull', 1))} N`,
        `${num(clampHoldsN(), 0)} N`,
        num(clampHoldsN() / yieldedN('pull', 1)),
      ],
      [
        'glue in the cup',
        `${num(yieldedN('pull', 1))} N`,
        `${num(glueHoldsN(), 0)} N`,
        num(glueHoldsN() / yieldedN('pull', 1)),
      ],
      [
        'wire from its clamp’s bore, cup at the stop',
        `${num(boreLeavesMm(STOP_GAP_MM), 2)} mm free`,
        '0 mm',
        '',
      ],
    ],
  );
}

export function stopTable(): string {
  const { full, half } = loads();
  const moves = loadMovesMm(full, half);
  const each = (value: (material: HardMaterial) => number) => HARD.map((material) => num(value(material), 3));
  return `${table(
    ['closes the gap, mm', ...HARD.map((material) => HARD_MATERIALS[material].name)],
    [
      [`cup ${WARMER_K} K warmer than the shell, along the bottle`, ...each(warmthMm)],
      ['load, worst hold and mouth: across', ...each(() => moves.acrossMm)],
      ['the same: along the bottle', ...each(() => moves.alongMm)],
      [`hand, ${SQUEEZE_N} N on either side: across`, ...each((m) => SQUEEZE_MOVES_MM[m].glued.acrossMm)],
      ['setting and reaming', ...each(() => SETTING_MM)],
      [`**left of ${STOP_GAP_MM} mm**, all at once`, ...each((m) => stopRoom(full, half, m).leftMm)],
      [`left of ${SIDE_GAP_MM} mm at the side`, ...each((m) => stopRoom(full, half, m).sideLeftMm)],
      ['the same, pins not glued: side', ...each((m) => stopRoom(full, half, m, 'loose').sideLeftMm)],
    ],
  )}

A push of ${num(tipYieldsN(full, BOTTLE.teatTipZMm))} N across at the tip of the nipple, level and full, makes the front seat give way; what is more the stops carry: no cell feels it. The mouth’s envelope is ${MOUTH_ENVELOPE_N} N.`;
}

export function dropTable(): string {
  const { full } = loads();
  const grounds = keysOf(GROUNDS);
  const rows = grounds.flatMap((ground) =>
    [50, 200, 400, 800].flatMap((height) =>
      HARD.map((material): Row => {
        const m = fallMargins(height, full.massGrams, ground, material);
        return [
          GROUNDS[ground].name,
          height / 10,
          HARD_MATERIALS[material].name,
          num(peakForceN(height, full.massGrams, ground), 0),
          num(m.cell, 2),
          num(m.strut, 2),
          num(m.pin, 2),
          num(m.foot, 2),
        ];
      }),
    ),
  );
  const safe = grounds.flatMap((ground) =>
    HARD.map(
      (m) =>
        `${GROUNDS[ground].name}, ${HARD_MATERIALS[m].name}: ${num(safeFallMm(full.massGrams, ground, m) / 10, 0)} cm`,
    ),
  );
  return `${table(
    ['on', 'from, cm', 'printed in', 'on the stops, N', 'cell', 'strut', 'stop pin', 'foot on its pin'],
    rows,
  )}

Margins; under 1 it breaks. Falls on an end, the grip or the window are safe up to, by these parts, full bottle: ${safe.join('; ')}. Assumed: comes to rest over ${grounds.map((g) => `${GROUNDS[g].stoppingMm} mm (${GROUNDS[g].name})`).join(' or ')}, peak twice the mean, both pins share it, ${DROP.stopStiffnessNPerMm} N/mm at a stop.`;
}

export function sideFallTable(): string {
  const { full } = loads();
  const grounds = keysOf(GROUNDS);
  const rows = grounds.flatMap((ground) =>
    [10, 50, 200, 800].map((height): Row => {
      const [right, left] = (['right', 'left'] as const).map((side) =>
        sideFallMargins(height, full, ground, side),
      );
      return [
        GROUNDS[ground].name,
        height / 10,
        num(peakForceN(height, full.massGrams, ground), 0),
        num(right!.links, 2),
        num(left!.links, 2),
        num(Math.min(right!.axialStrut, left!.axialStrut), 2),
        num(left!.cell, 2),
        num(left!.spacer, 2),
      ];
    }),
  );
  const shares = linkShares(full.centreZMm).map((share) => num(share, 2));
  const safe = grounds.map((ground) => {
    const [right, left] = (['right', 'left'] as const).map((side) => safeSideFallMm(full, ground, side) / 10);
    return `${GROUNDS[ground].name}: ${num(right!)} cm on the right, ${num(left!)} cm on the left`;
  });
  return `${table(
    [
      'on',
      'from, cm',
      'on the cup, N',
      'links, right side',
      'links, left side',
      'axial strut',
      'its cell',
      'spacers',
    ],
    rows,
  )}

Of a force on the side the front link takes ${shares[0]}, the rear ones ${shares[1]} and ${shares[2]}: on either side one of them is pulled. All links hold, full bottle, up to: ${safe.join('; ')}. A link pressed together by the gap of ${SIDE_GAP_MM} mm bends out to ${num(bentOutStressMPa(linkLengthsMm.front, SIDE_GAP_MM), 0)} MPa of ${num(0.9 * WIRE.tensileStrengthMPa, 0)} and springs back.`;
}

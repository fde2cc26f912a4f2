import { describe, expect, it } from 'vitest';
import { coilRateNPerMm, coilStressMPa, ringClosesMm, screwForceN } from '../../hardware/budgets/beams.ts';
import { CELL_DATA, ratedN } from '../../hardware/budgets/cells.ts';
import {
  bentOutStressMPa,
  cupMovesMm,
  fallMargins,
  peakForceN,
  pinStressMPa,
  safeFallMm,
} from '../../hardware/budgets/drop.ts';
import { type Carried, carried, HOLDS, worstForces } from '../../hardware/budgets/holds.ts';
import {
  boreLeavesMm,
  clampHoldsN,
  glueHoldsN,
  SPRING_WIRE,
  seatMargin,
  springFreeMm,
  springSolidMm,
  springStressMPa,
  strutBendingMPa,
  useMargin,
  yieldedN,
  yieldN,
} from '../../hardware/budgets/seat.ts';
import {
  linkShares,
  linksHoldN,
  proppedWire,
  safeSideFallMm,
  sideFallMargins,
} from '../../hardware/budgets/side-fall.ts';
import { loadMovesMm, stopRoom, tipYieldsN, WARMER_K, warmthMm } from '../../hardware/budgets/stops.ts';
import {
  BOTTLE,
  CELL,
  HARD_MATERIALS,
  type HardMaterial,
  SEAT,
  SIDE_GAP_MM,
  SMALL_BOTTLE,
  SMALL_CUP,
  STOP_GAP_MM,
  WIRE,
} from '../../hardware/design.ts';
import { FRONT_LINK, REAR_LINKS } from '../../hardware/shape/cup-side.ts';

const CUP: Carried = { massGrams: 32, centreZMm: 40 };
const full = carried(CUP, BOTTLE.fullMl);
const half = carried(CUP, BOTTLE.fullMl / 2);
const MATERIALS = Object.keys(HARD_MATERIALS) as HardMaterial[];

describe('handbook formulas', () => {
  it('has the spring of Shigley’s worked example', () => {
    // Shigley's Mechanical Engineering Design, example 10-1 (from memory): no. 16 music wire, 0.037 in, outside 7/16 in, 10½ active
    // turns, G 11.85 Mpsi: 4.13 lbf/in. 1 in = 25.4 mm, 1 lbf = 4.4482 N, 1 psi = 6.8948 kPa.
    const [d, outside] = [0.037 * 25.4, (7 / 16) * 25.4];
    const rate = coilRateNPerMm(d, outside - d, 10.5, 11.85e6 * 6.8948e-3);
    expect((rate * 25.4) / 4.4482).toBeCloseTo(4.13, 1);
    // The same example: 6.46 lbf reach the wire's torsional yield, 0.45·201/0.037^0.145 = 146 kpsi.
    expect(coilStressMPa(6.46 * 4.4482, d, outside - d) / 6.8948).toBeCloseTo(
      (0.45 * 201) / 0.037 ** 0.145,
      0,
    );
  });

  it('closes a ring by 0.149 and tightens a screw by T/(0.2·d)', () => {
    // Timoshenko, Strength of Materials (from memory): 0.149·P·R³/(E·I) along the forces.
    expect(ringClosesMm(1, 10, 1000, 1)).toBeCloseTo(0.149, 3);
    expect(screwForceN(50, 1.6)).toBeCloseTo(156.25, 9);
  });

  it('bends out as Euler’s column does: shape and shortening by numbers', () => {
    // A = 2 mm over 30 mm: integrate half the square of the slope, and take the curvature at the end by differences.
    const [length, sag, n] = [30, 2, 20_000];
    const w = (x: number) => (sag / 2) * (1 - Math.cos((2 * Math.PI * x) / length));
    let shorter = 0;
    for (let i = 0; i < n; i++)
      shorter += ((w(((i + 1) * length) / n) - w((i * length) / n)) / (length / n)) ** 2 / 2;
    shorter *= length / n;
    const h = 1e-3;
    const curvature = (w(h) - 2 * w(0) + w(-h)) / (h * h);
    expect(bentOutStressMPa(length, shorter)).toBeCloseTo(
      (WIRE.youngsModulusMPa * curvature * WIRE.linkDiameterMm) / 2,
      -1,
    );
  });
});

describe('the seat of a cell', () => {
  const worst = Math.max(
    ...HOLDS.map((hold) => worstForces(full, hold)).flatMap(({ axialN, frontN, rearN }) =>
      [axialN, frontN, rearN].map(Math.abs),
    ),
  );

  it('gives way by levers', () => {
    // Load 42 mm from the fixed end, springs at 6, ridges at 0.8 and 10.2: 76·5.2/41.2 and 76·4.2/31.8.
    expect(CELL.lengthMm - CELL.loadHoleMm).toBe(42);
    expect(yieldN('push')).toBeCloseTo((76 * 5.2) / 41.2, 9);
    expect(yieldN('pull')).toBeCloseTo((76 * 4.2) / 31.8, 9);
    // Work of a small turn about the ridge: load times its way is what the springs take up.
    const [before, after] = [yieldedN('push', 0.1), yieldedN('push', 0.2)];
    const rate = 35.42;
    const work = ((before + after) / 2) * 0.1;
    const [l1, l2] = [0.1, 0.2].map((mm) => SEAT.preloadN + (rate * mm * 5.2) / 41.2) as [number, number];
    expect(work).toBeCloseTo(((l1 + l2) / 2) * 2 * ((0.1 * 5.2) / 41.2), 3);
  });

  it('never gives way in a feed, and always before the cell is hurt', () => {
    expect(worst).toBeGreaterThan(6);
    expect(useMargin(worst)).toBeGreaterThan(1.15);
    expect(seatMargin(1.5)).toBeGreaterThan(1.1);
    expect(yieldedN('pull', 1.5)).toBeLessThan(CELL_DATA.safeOverload * ratedN);
  });

  it('is loaded less by the small bottle than by the wide one: lighter, and its tip nearer', () => {
    expect(SMALL_CUP.liftMm + SMALL_BOTTLE.teatTipZMm).toBeLessThan(BOTTLE.teatTipZMm);
    expect(SMALL_BOTTLE.emptyMassGrams + SMALL_BOTTLE.fullMl * 1.03).toBeLessThan(
      BOTTLE.emptyMassGrams + BOTTLE.fullMl * 1.03,
    );
  });

  it('has a spring that can be wound, and is not pressed solid', () => {
    expect(springStressMPa()).toBeLessThan(SPRING_WIRE.allowedShare * SPRING_WIRE.tensileStrengthMPa);
    expect(SEAT.setLengthMm).toBeGreaterThan(springSolidMm() + 0.2);
    expect(springFreeMm()).toBeCloseTo(5.5, 1);
    // An index of 4 to 12 can be wound (Shigley; from memory).
    expect(SEAT.coilDiameterMm / SEAT.wireDiameterMm).toBeGreaterThan(4);
  });

  it('holds its wire, which touches nothing while the cup is off the stops', () => {
    expect(clampHoldsN()).toBeGreaterThan(2 * yieldedN('pull', 1));
    expect(glueHoldsN()).toBeGreaterThan(2 * yieldedN('pull', 1));
    expect(boreLeavesMm(STOP_GAP_MM)).toBeGreaterThan(0.1);
    // Ø 0.4 × 16.5 mm moved by 0.35 mm: 3·200 000·0.4·0.35/272 = 309 MPa.
    expect(strutBendingMPa(0.35)).toBeCloseTo(308.5, 0);
  });
});

describe('the stops', () => {
  it.each(MATERIALS)(
    'stay open in use, printed in %s: warmth, load, hand and setting at once',
    (material) => {
      expect(STOP_GAP_MM).toBeGreaterThanOrEqual(0.3);
      expect(SIDE_GAP_MM).toBeGreaterThanOrEqual(0.3);
      const room = stopRoom(full, half, material);
      expect(room.leftMm).toBeGreaterThan(0.05);
      expect(room.sideLeftMm).toBeGreaterThan(0.1);
      // Warming by 12 K over 82.5 mm takes more than 0.1 mm, so a gap of 0.11 mm would not be enough.
      expect(warmthMm(material)).toBeCloseTo(HARD_MATERIALS[material].growthPerK * WARMER_K * 82.5, 9);
      expect(warmthMm('pa12')).toBeGreaterThan(0.1);
      // With loose pins the walls of the grip would touch; this is why the pins are glued.
      expect(stopRoom(full, half, material, 'loose').sideLeftMm).toBeLessThan(0);
    },
  );

  it('have a cup that moves as its springs and levers say', () => {
    const { acrossMm, alongMm } = loadMovesMm(full, half);
    expect(acrossMm).toBeLessThan(0.08);
    expect(alongMm).toBeLessThan(0.08);
  });

  it('take what is pressed on far from a cell, beyond twice the mouth’s envelope of it', () => {
    const tip = tipYieldsN(full, BOTTLE.teatTipZMm);
    expect(tip).toBeGreaterThan(2 * 1.5);
    // By levers: weight on the front cell level, and 170/86 of the push.
    expect(tip * (170 / 86) + worstForces(full, HOLDS[1]!).frontN - 2 * (170 / 86)).toBeCloseTo(
      yieldN('push'),
      6,
    );
  });
});

describe('a fall', () => {
  it('is energy over way: mean force = m·g·(h + s)/s', () => {
    // 400 g, 30 mm, stopped over 2 mm: 16 g mean, 32 g peak = 125.5 N.
    expect(peakForceN(30, 400, 'table')).toBeCloseTo(0.4 * 9.80665 * 32, 9);
  });

  it.each(MATERIALS)('of 0.8 m on a floor mat leaves cells, struts, pins and feet whole: %s', (material) => {
    for (const margin of Object.values(fallMargins(800, full.massGrams, 'mat', material)))
      expect(margin).toBeGreaterThan(1.1);
    expect(safeFallMm(full.massGrams, 'mat', material)).toBeGreaterThan(800);
  });

  it.each(MATERIALS)('on a hard floor is said as it is: %s', (material) => {
    const safe = safeFallMm(full.massGrams, 'table', material);
    expect(safe).toBeGreaterThan(250);
    expect(safe).toBeLessThan(800);
    expect(Math.min(...Object.values(fallMargins(safe, full.massGrams, 'table', material)))).toBeCloseTo(
      1,
      3,
    );
    expect(Math.min(...Object.values(fallMargins(800, full.massGrams, 'table', material)))).toBeLessThan(1);
  });

  it('bends a pin by the lever of its boss: 100 N on each, 7 mm', () => {
    // 50 N at each end of a foot, 350 N·mm / 2.651 mm³ = 132 MPa.
    expect(pinStressMPa(200)).toBeCloseTo(132, 0);
    expect(cupMovesMm(800, 385, 'mat')).toBeLessThan(1);
  });
});

describe('a fall on the side', () => {
  it('is carried by three links in equilibrium, about any axis', () => {
    const shares = linkShares(full.centreZMm);
    const at = [FRONT_LINK.xMm, ...REAR_LINKS.xMm].map((xMm, i) => ({
      xMm,
      zMm: i === 0 ? FRONT_LINK.zMm : REAR_LINKS.zMm,
      share: shares[i]!,
    }));
    const sum = (of: (link: (typeof at)[number]) => number) =>
      at.reduce((total, link) => total + of(link) * link.share, 0);
    expect(sum(() => 1)).toBeCloseTo(1, 9);
    expect(sum(({ xMm }) => xMm)).toBeCloseTo(0, 9);
    expect(sum(({ zMm }) => zMm)).toBeCloseTo(full.centreZMm, 9);
    // On either side one of the links is pulled.
    expect(Math.min(...shares)).toBeLessThan(-0.5);
    expect(Math.max(...shares)).toBeGreaterThan(0.5);
  });

  it.each(['right', 'left'] as const)(
    'is no matter in a feed: rolled on its %s side, full, the mouth pushing, links hold three times',
    (side) => {
      const comesN = (full.massGrams / 1000) * 9.80665 + 2;
      expect(linksHoldN(full.centreZMm, side) / comesN).toBeGreaterThan(3);
    },
  );

  it('bends a propped wire as the handbooks’ beams at both ends of its range', () => {
    // Roark (from memory): both ends held from turning, M = 6·Δ/b², V = 12·Δ/b³; one end free to turn, M = 3·Δ/b², V = 3·Δ/b³.
    const held = proppedWire(1e-6, 7, 1);
    expect(held.moment).toBeCloseTo(6 / 49, 6);
    expect(held.force).toBeCloseTo(12 / 343, 6);
    const free = proppedWire(1e9, 7, 1);
    expect(free.moment).toBeCloseTo(3 / 49, 6);
    expect(free.force).toBeCloseTo(3 / 343, 6);
  });

  it.each(['right', 'left'] as const)(
    'of 0.8 m on a mat costs links and the axial strut, and leaves the cells whole: %s',
    (side) => {
      const margins = sideFallMargins(800, full, 'mat', side);
      expect(margins.links).toBeLessThan(1);
      expect(margins.axialStrut).toBeLessThan(1);
      expect(margins.cell).toBeGreaterThan(1.1);
      // From this height the spacers alone would break; from 0.6 m they would not.
      expect(margins.spacer).toBeLessThan(1);
      expect(sideFallMargins(600, full, 'mat', side).spacer).toBeGreaterThan(1);
      const safe = safeSideFallMm(full, 'mat', side);
      expect(sideFallMargins(safe, full, 'mat', side).links).toBeCloseTo(1, 6);
      expect(safe).toBeGreaterThan(5);
      expect(safe).toBeLessThan(safeFallMm(full.massGrams, 'mat', 'asa') / 10);
      // A fall that the links hold bends the axial strut by the gap at the feet only.
      expect(sideFallMargins(0.9 * safe, full, 'mat', side).axialStrut).toBeGreaterThan(2);
    },
  );
});

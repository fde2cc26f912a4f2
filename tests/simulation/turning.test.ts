import { describe, expect, it } from 'vitest';
import { type MovingBurden, shellLoads, turningLoads } from '../../src/simulation/balance.ts';
import { DEFAULT_BOTTLE } from '../../src/simulation/bottle.ts';
import { PLAIN_PARAMETERS } from '../../src/simulation/defaults.ts';
import { Hand } from '../../src/simulation/hand.ts';
import { milkCentreOf, noMilkPlace } from '../../src/simulation/milk-centre.ts';
import { feltAt, STILL, setTurn, type Turn } from '../../src/simulation/turning.ts';
import type { Triple } from '../../src/simulation/vectors.ts';

const G0 = 9.80665; // CGPM 1901

type Room = [number, number, number];
const plus = (a: Room, b: Room, times = 1): Room => [
  a[0] + times * b[0],
  a[1] + times * b[1],
  a[2] + times * b[2],
];
const scaled = (a: Room, by: number): Room => [a[0] * by, a[1] * by, a[2] * by];
const dot = (a: Room, b: Room): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Room, b: Room): Room => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

const UP: Room = [0, 0, 1];
const AWAY: Room = [1, 0, 0];

/**
 * The bottle's axes in the room, from the sleeve contract's words alone: z leaves "up" by the tilt; level with the grip underneath x points
 * up; y = z × x; roll is atan2(fy, fx) of what is felt at rest, and what is felt at rest is "up" by its parts along the axes.
 */
function axes(tiltRad: number, rollRad: number): [x: Room, y: Room, z: Room] {
  const z = plus(scaled(UP, Math.cos(tiltRad)), AWAY, Math.sin(tiltRad));
  const unrolledX = plus(scaled(UP, Math.sin(tiltRad)), AWAY, -Math.cos(tiltRad));
  const unrolledY = cross(z, unrolledX);
  const x = plus(scaled(unrolledX, Math.cos(rollRad)), unrolledY, -Math.sin(rollRad));
  return [x, cross(z, x), z];
}

const place = ([x, y, z]: [Room, Room, Room], [rx, ry, rz]: Triple): Room =>
  plus(plus(scaled(x, rx / 1000), y, ry / 1000), z, rz / 1000);

/** Second derivative by central differences. */
const bent = (before: Room, now: Room, after: Room, stepSec: number): Room =>
  scaled(plus(plus(before, after), now, -2), 1 / stepSec ** 2);

describe('turning, by where points are in the room', () => {
  const tiltAt = (sec: number) => ({
    rad: 1.3 + 0.5 * Math.sin(2.3 * sec),
    radPerSec: 1.15 * Math.cos(2.3 * sec),
    radPerSec2: -2.645 * Math.sin(2.3 * sec),
  });
  const rollAt = (sec: number) => ({
    rad: 0.4 * Math.sin(1.7 * sec + 1),
    radPerSec: 0.68 * Math.cos(1.7 * sec + 1),
    radPerSec2: -1.156 * Math.sin(1.7 * sec + 1),
  });
  const still = (rad: number) => ({ rad, radPerSec: 0, radPerSec2: 0 });
  const STEP = 1e-3;

  it('rest: felt is (0,0,1) upright, (1,0,0) level, (0,0,−1) teat down, and rolls by atan2(fy, fx)', () => {
    const feltAtRest = (tilt: number, roll: number) => axes(tilt, roll).map((axis) => dot(axis, UP));
    const close = (got: number[], want: number[]) =>
      got.forEach((entry, i) => {
        expect(entry).toBeCloseTo(want[i]!, 12);
      });
    close(feltAtRest(0, 0), [0, 0, 1]);
    close(feltAtRest(Math.PI / 2, 0), [1, 0, 0]);
    close(feltAtRest(Math.PI, 0), [0, 0, -1]);
    const [fx, fy] = feltAtRest(1.2, 0.3);
    expect(Math.atan2(fy!, fx!)).toBeCloseTo(0.3, 12);
  });

  it.each<Triple>([
    [0, 0, -15.5],
    [0, 0, 12],
    [0, 0, 70],
    [-8, 5, 95],
    [0, 0, 172],
    [-41.6, 0, 65],
  ])('gives the force at (%d, %d, %d) mm that two differentiations of its position give', (...at) => {
    const turn: Turn = { rate: [0, 0, 0], acceleration: [0, 0, 0] };
    for (let sec = 0.05; sec < 4; sec += 0.13) {
      const then = [sec - STEP, sec, sec + STEP].map((t) => axes(tiltAt(t).rad, rollAt(t).rad));
      const from = 60;
      const [before, now, after] = then.map((frame) => place(frame, [at[0], at[1], at[2] - from]));
      const inRoom = plus(scaled(bent(before!, now!, after!, STEP), 1 / G0), UP);
      const [x, y, z] = then[1]!;
      setTurn(turn, tiltAt(sec), rollAt(sec));
      const felt = feltAt([dot(x, UP), dot(y, UP), dot(z, UP)], from, turn, at, [0, 0, 0]);
      expect(felt[0]).toBeCloseTo(dot(inRoom, x), 5);
      expect(felt[1]).toBeCloseTo(dot(inRoom, y), 5);
      expect(felt[2]).toBeCloseTo(dot(inRoom, z), 5);
    }
  });

  it('has the form of the sleeve contract without roll: fx less by θ̈, fz by θ̇², ωy = −θ̇', () => {
    const turn: Turn = { rate: [0, 0, 0], acceleration: [0, 0, 0] };
    setTurn(turn, { rad: 1, radPerSec: 0.7, radPerSec2: 1.9 }, still(0));
    const felt = feltAt([0.8, 0, 0.5], 12, turn, [0, 0, 112], [0, 0, 0]);
    expect(felt[0]).toBeCloseTo(0.8 - (1.9 * 0.1) / G0, 12);
    expect(felt[2]).toBeCloseTo(0.5 - (0.7 ** 2 * 0.1) / G0, 12);
    expect(turn.rate[1]).toBeCloseTo(-0.7, 12);
  });

  it('turns as its axes turn in the room: ωx = ẏ·z, ωy = ż·x, ωz = ẋ·y', () => {
    const turn: Turn = { rate: [0, 0, 0], acceleration: [0, 0, 0] };
    for (const sec of [0.2, 0.9, 1.7, 2.8]) {
      const [before, now, after] = [sec - STEP, sec, sec + STEP].map((t) =>
        axes(tiltAt(t).rad, rollAt(t).rad),
      );
      const speed = (axis: number): Room => scaled(plus(after![axis]!, before![axis]!, -1), 1 / (2 * STEP));
      const [x, y, z] = now!;
      setTurn(turn, tiltAt(sec), rollAt(sec));
      expect(turn.rate[0]).toBeCloseTo(dot(speed(1), z), 5);
      expect(turn.rate[1]).toBeCloseTo(dot(speed(2), x), 5);
      expect(turn.rate[2]).toBeCloseTo(dot(speed(0), y), 5);
    }
  });
});

describe('a hand that turns the bottle', () => {
  const STEP_SEC = 0.0125;
  const parameters = { ...PLAIN_PARAMETERS.hand, turns: true, wobbleRadPerSec2: 0.3, accelerationG: 0 };

  it('feels what two differentiations of the bottle’s path give, through moves and wobble', () => {
    const hand = new Hand(parameters, 7, STEP_SEC);
    const frames: [Room, Room, Room][] = [];
    const shown: { felt: Triple; rest: Triple }[] = [];
    const AT: Triple = [0, 0, 160];
    for (let i = 0; i < 80 * 30; i++) {
      hand.step(i < 80 * 4 ? 0 : i % 800 < 400 ? 100 : 70, i < 80 * 3);
      frames.push(axes((hand.tiltDeg * Math.PI) / 180, (hand.rollDeg * Math.PI) / 180));
      const felt = feltAt(hand.feltG, parameters.holdsAtZMm, hand.turn!, AT, [0, 0, 0]);
      shown.push({ felt, rest: [...hand.feltG] });
    }
    let largest = 0;
    for (let i = 1; i < frames.length - 1; i++) {
      const [before, now, after] = [i - 1, i, i + 1].map((k) =>
        place(frames[k]!, [0, 0, 160 - parameters.holdsAtZMm]),
      );
      const inRoom = scaled(bent(before!, now!, after!, STEP_SEC), 1 / G0);
      const [x, , z] = frames[i]!;
      const { felt, rest } = shown[i]!;
      largest = Math.max(largest, Math.abs(dot(inRoom, x)));
      // Differences over whole steps stray by (ω·step)²/12 of what they show: under 0.3 mg here.
      expect(Math.abs(felt[0] - rest[0] - dot(inRoom, x))).toBeLessThan(5e-4);
      expect(Math.abs(felt[2] - rest[2] - dot(inRoom, z))).toBeLessThan(5e-4);
    }
    expect(largest).toBeGreaterThan(0.01);
  });

  it('wobbles by 0.3 rad/s², most of it between 0.6 and 3 Hz', () => {
    const calm = { ...parameters, tiltWanderDeg: 0, rollWanderDeg: 0 };
    const hand = new Hand(calm, 3, STEP_SEC);
    const column: number[] = [];
    for (let i = 0; i < 80 * 1210; i++) {
      hand.step(95, false);
      if (i >= 80 * 10) column.push(hand.turn!.acceleration[1] / Math.cos((hand.rollDeg * Math.PI) / 180));
    }
    const meanSquare = column.reduce((sum, a) => sum + a * a, 0) / column.length;
    // 1200 s at 1.3 Hz hold some 2000 independent values: standard error of the rms about 2 %.
    expect(Math.abs(Math.sqrt(meanSquare) - 0.3)).toBeLessThan(0.03);
    let within = 0;
    // Periodogram over stretches of 20 s: 0.05 Hz apart.
    for (let start = 0; start + 1600 <= column.length; start += 1600)
      for (let line = 12; line <= 60; line++) {
        let cosine = 0;
        let sine = 0;
        for (let i = 0; i < 1600; i++) {
          cosine += column[start + i]! * Math.cos((2 * Math.PI * line * i) / 1600);
          sine += column[start + i]! * Math.sin((2 * Math.PI * line * i) / 1600);
        }
        within += (2 * (cosine ** 2 + sine ** 2)) / 1600 ** 2;
      }
    // ∫ x⁴/(1 + x²)⁴ between those frequencies is 0.78 of the whole; poles stepped at 80 Hz spread it a little.
    expect(Math.abs(within / Math.floor(column.length / 1600) / meanSquare - 0.78)).toBeLessThan(0.08);
  });

  it('stands still on the table, and comes to rest there again', () => {
    const hand = new Hand(parameters, 5, STEP_SEC);
    for (let i = 0; i < 80 * 40; i++) {
      hand.step(90, i < 80 * 5 || i > 80 * 30);
      if (i < 80 * 5 || i > 80 * 37) {
        expect(hand.tiltDeg).toBe(0);
        expect(hand.turn!.acceleration).toEqual([0, 0, 0].map(() => expect.closeTo(0, 12)));
      }
    }
  });
});

/** Period of small swings about `pivotZMm`, found by stepping the free swing: the shell gives no moment about the pivot. */
function swingSec(burden: MovingBurden, pivotZMm: number): number {
  const momentNm = (tiltRad: number, radPerSec2: number): number => {
    const atRest: Triple = [Math.sin(tiltRad), 0, Math.cos(tiltRad)];
    const turn: Turn = { rate: [0, 0, 0], acceleration: [0, -radPerSec2, 0] };
    const [restX, , restM] = shellLoads(burden, atRest, []);
    const [turnX, , turnM] = turningLoads(burden, atRest, pivotZMm, turn);
    return restM + turnM - (pivotZMm / 1000) * (restX + turnX);
  };
  const free = (tiltRad: number): number => {
    const without = momentNm(tiltRad, 0);
    return -without / (momentNm(tiltRad, 1) - without);
  };
  const dt = 1e-4;
  // It hangs teat down when its weight lies towards the teat from the pivot, so it swings about 180°.
  let tilt = Math.PI + 0.02;
  let rate = 0;
  const crossings: number[] = [];
  for (let i = 0; crossings.length < 3; i++) {
    const before = tilt - Math.PI;
    rate += free(tilt) * dt;
    tilt += rate * dt;
    const after = tilt - Math.PI;
    if (before > 0 !== after > 0) crossings.push((i + before / (before - after)) * dt);
    if (i > 1e6) throw new Error('it does not swing');
  }
  return crossings[2]! - crossings[0]!;
}

describe('moments of inertia, by a physical pendulum', () => {
  const nothing = { milkMassGrams: 0, milkXMm: 0, milkYMm: 0, milkZMm: 0, milkInertiaMm2: 0 };
  const stillMilk = { milkAccelerationX: 0, milkAccelerationZ: 0 };

  it('a rod hung at its end swings in T = 2π√(2L/3g) (handbook)', () => {
    const rod: MovingBurden = {
      ...nothing,
      ...stillMilk,
      emptyMassGrams: 200,
      emptyCentreZMm: 80,
      emptyInertiaMm2: 160 ** 2 / 12,
    };
    expect(swingSec(rod, 0)).toBeCloseTo(2 * Math.PI * Math.sqrt((2 * 0.16) / (3 * G0)), 3);
  });

  it.each([20, 100, 200])(
    'the bottle with %d mL of stiff milk swings in T = 2π√(I/(m·g·d)) (handbook)',
    (milkMl) => {
      const milk = milkCentreOf(DEFAULT_BOTTLE.innerProfileMm).locate(milkMl, Math.PI, noMilkPlace());
      const burden: MovingBurden = {
        ...stillMilk,
        emptyMassGrams: DEFAULT_BOTTLE.emptyMassGrams,
        emptyCentreZMm: DEFAULT_BOTTLE.emptyCentreZMm,
        emptyInertiaMm2: DEFAULT_BOTTLE.emptyGyrationMm ** 2,
        milkMassGrams: milkMl * 1.03,
        milkXMm: 0,
        milkYMm: 0,
        milkZMm: milk.zMm,
        milkInertiaMm2: milk.inertiaMm2,
      };
      const parts = [
        [burden.emptyMassGrams, burden.emptyCentreZMm, burden.emptyInertiaMm2],
        [burden.milkMassGrams, burden.milkZMm, burden.milkInertiaMm2],
      ] as const;
      // Parallel axes (Steiner): I = Σ m·(k² + d²).
      const inertia = parts.reduce((sum, [grams, z, k2]) => sum + (grams / 1000) * ((k2 + z * z) / 1e6), 0);
      const weightArm = parts.reduce((sum, [grams, z]) => sum + (grams / 1000) * G0 * (z / 1000), 0);
      expect(swingSec(burden, 0)).toBeCloseTo(2 * Math.PI * Math.sqrt(inertia / weightArm), 3);
    },
  );

  it('of an upright cylinder of milk is m(R²/4 + h²/12) (handbook)', () => {
    const cylinder = milkCentreOf([
      [0, 28],
      [120, 28],
    ]);
    for (const depthMm of [20, 50, 90]) {
      const milk = cylinder.locate((Math.PI * 28 ** 2 * depthMm) / 1000, 0, noMilkPlace());
      expect(milk.inertiaMm2 / (28 ** 2 / 4 + depthMm ** 2 / 12)).toBeCloseTo(1, 2);
    }
  });

  it('adds nothing while nothing turns', () => {
    const burden: MovingBurden = {
      ...nothing,
      ...stillMilk,
      emptyMassGrams: 168,
      emptyCentreZMm: 78,
      emptyInertiaMm2: 2000,
    };
    expect(turningLoads(burden, [0.9, 0.1, -0.3], 60, STILL)).toEqual([0, 0, 0]);
  });
});

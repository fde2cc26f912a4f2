/** Containers for tests, all invented. */
import { type Container, type ContainerNow, fromList } from '../../src/planning/milk/milk.ts';

export const at = (iso: string): number => Date.parse(iso);
export const MORNING_MS = at('2026-05-12T11:30:00Z');
export const EVENING_MS = at('2026-05-12T22:30:00Z');
export const AWAY = { fromMs: MORNING_MS, untilMs: EVENING_MS };

export const container = (id: string, volumeMl: number, more: Partial<ContainerNow> = {}): Container =>
  fromList({
    id,
    kind: 'expressed',
    volumeMl,
    expressedAtMs: at('2026-05-11T12:00:00Z'),
    place: 'fridge',
    thawedAtMs: null,
    warmedAtMs: null,
    heldBack: false,
    ...more,
  });

export const frozen = (id: string, volumeMl: number, day = '2026-04-02'): Container =>
  container(id, volumeMl, { place: 'freezer', expressedAtMs: at(`${day}T12:00:00Z`) });

/** Fourteen of them, as a freezer and a fridge hold them. */
export const FOURTEEN: Container[] = [
  container('A', 95),
  container('B', 70),
  container('C', 110, { expressedAtMs: at('2026-05-10T20:00:00Z') }),
  container('D', 60),
  container('E', 45),
  container('F', 80),
  frozen('G', 60, '2026-03-01'),
  frozen('H', 90, '2026-03-04'),
  frozen('I', 30, '2026-03-09'),
  frozen('J', 120, '2026-03-12'),
  frozen('K', 30, '2026-03-15'),
  frozen('L', 60, '2026-03-20'),
  frozen('M', 45, '2026-03-22'),
  frozen('N', 90, '2026-03-28'),
];

/** As in a file: the present place, without the history. */
export const listed = ({ strands: _strands, ...now }: Container): ContainerNow => now;

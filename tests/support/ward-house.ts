/** A house with two children, bottles, sleeves and their labels, in a store of its own. */
import { onTestFinished } from 'vitest';
import { wardService } from '../../src/app/ward/ward-service.ts';
import { openStore } from '../../src/store/open-store.ts';
import type { Stopped } from '../../src/ward/board/board-view.ts';
import { checkCharacter } from '../../src/ward/labels/code.ts';
import { babyEntry } from './babies.ts';
import { temporaryFolder } from './temporary-folder.ts';

export const NOON = Date.UTC(2026, 5, 1, 12);
export const ANA = { person: 'p-ana', role: 'hold' } as const;

/** Appends the check letter to a code. */
export const codeOf = (body: string): string => body + checkCharacter(body);
const drawable = (letters: string): string => {
  for (const last of '23456789ABCDEFGHJKMNPQRSTVWXYZ') {
    const code = codeOf(letters.padEnd(8, '2') + last);
    if (/[2-9A-HJKMNP-TV-Z]$/.test(code)) return code;
  }
  throw new Error('no such code');
};
export const CODES = {
  first: drawable('CH3'),
  second: drawable('CH4'),
  bottle: drawable('BT3'),
  other: drawable('BT4'),
  sleeve: drawable('SV7'),
} as const;

export function wardHouse() {
  const folder = temporaryFolder();
  let nowMs = NOON;
  const store = openStore(folder, { nowMs: () => nowMs, recording: true });
  onTestFinished(() => store.close());
  const [first, second] = ['Ilo', 'Uma'].map((name) => store.addBaby({ ...babyEntry(), name }).id) as [
    string,
    string,
  ];
  const feeding = new Set<number>();
  const stopped: Stopped[] = [];
  const service = wardService(store, {
    nowMs: () => nowMs,
    zone: 'UTC',
    isFeeding: (sleeve) => feeding.has(sleeve),
    onStopped: (one) => stopped.push(one),
  });
  store.ward(({ records }) => {
    for (const [babyId, cot, code] of [
      [first, 'A1', CODES.first],
      [second, 'A2', CODES.second],
    ] as const) {
      records.addStay({ babyId, cot, fromMs: NOON - 3_600_000 });
      records.addLabel({ code, kind: 'child', babyId, sleeve: null, madeAtMs: NOON });
    }
    for (const code of [CODES.bottle, CODES.other])
      records.addLabel({ code, kind: 'bottle', babyId: null, sleeve: null, madeAtMs: NOON });
    records.addLabel({ code: CODES.sleeve, kind: 'sleeve', babyId: null, sleeve: 7, madeAtMs: NOON });
  });
  return {
    folder,
    store,
    service,
    first,
    second,
    feeding,
    stopped,
    later: (ms: number) => {
      nowMs += ms;
    },
    trail: () => store.ward(({ trail }) => trail.latest({ limit: 50 })).reverse(),
  };
}

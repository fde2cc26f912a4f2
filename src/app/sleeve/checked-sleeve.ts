/** The bring-up check on the sleeve on the table: light and buzzer by its board, samples by its link. */
import { firstValueFrom, interval, type SchedulerLike, timer } from 'rxjs';
import type { SleeveBoard } from '../../../firmware-bridge/board.ts';
import type { SleeveLink } from '../../../firmware-bridge/links/link.ts';
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import type { Identity } from '../../../firmware-bridge/wire/index.ts';
import { CHECKLIST } from '../../../hardware/bring-up/checklist.ts';
import { PlainError } from '../../base/errors.ts';
import type { Certificate } from '../../calibration/walk/certificate.ts';
import type { Calibration } from '../../sensing/index.ts';
import { checkPage } from './check-page.ts';
import { type CheckedSleeve, type Talk, walkChecklist } from './checklist-walk.ts';
import { listenTo } from './listened-sleeve.ts';

const HEARTBEAT_MS = 500;
/** One beep, soft as a cue's. */
const BEEP = { frequencyHz: 440, onMs: 400, offMs: 0, repeats: 1 } as const;

/** Sends heartbeats until it is closed, so that the sleeve shows the light it is set to. */
export function checkedSleeve(
  link: SleeveLink,
  board: SleeveBoard,
  calibration: Calibration | null,
  scheduler: SchedulerLike = monotonic,
): CheckedSleeve & { close(): void } {
  board.heartbeat(true);
  const beats = interval(HEARTBEAT_MS, scheduler).subscribe(() => board.heartbeat(true));
  return {
    ...listenTo(link, calibration, scheduler),
    showLight: (color) => board.setLight(color),
    playTone: () => board.sound(BEEP),
    wait: async (seconds) => {
      await firstValueFrom(timer(seconds * 1000, scheduler));
    },
    close() {
      board.setLight({ red: 0, green: 0, blue: 0 });
      beats.unsubscribe();
    },
  };
}

/** A person who may stop answering: then the answer is null. */
interface Asking {
  say(text: string): void;
  ask(question: string): Promise<string | null>;
}

const answered = ({ say, ask }: Asking): Talk => ({
  say,
  ask: async (question) => {
    const typed = await ask(question);
    if (typed !== null) return typed.trim();
    throw new PlainError(
      'nobody-answers',
      'The check asks questions, and the input has ended.',
      'Run it in a terminal, and again from the start.',
    );
  },
});

/** @returns the page of results, and whether no step failed @throws PlainError nobody-answers */
export async function walkedCheck({
  link,
  board,
  calibration,
  identity: { sleeveNumber, firmwareVersion },
  talk,
}: {
  link: SleeveLink;
  board: SleeveBoard;
  calibration: Calibration | null;
  identity: Identity;
  talk: Asking;
}): Promise<{ page: Certificate; passed: boolean }> {
  talk.say(
    `Sleeve ${sleeveNumber}, firmware ${firmwareVersion.join('.')}. No baby, no milk: water and hands only.`,
  );
  const sleeve = checkedSleeve(link, board, calibration);
  try {
    const outcomes = await walkChecklist(CHECKLIST, sleeve, answered(talk));
    const page = checkPage(CHECKLIST, outcomes, {
      sleeveNumber,
      firmwareVersion,
      checkedOn: new Date().toLocaleDateString('en-US', { dateStyle: 'long' }),
      calibrated: calibration !== null,
    });
    return { page, passed: outcomes.every(({ passed }) => passed !== false) };
  } finally {
    sleeve.close();
  }
}

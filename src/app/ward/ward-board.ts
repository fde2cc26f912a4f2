/** A room's board with its children: which cot a sleeve is bound to, stopped bindings, start and end of bound feeds. */
import type { SchedulerLike } from 'rxjs';
import type { PlainError } from '../../base/errors.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { isOfTheBottle } from '../../ward/binding/bind.ts';
import type { Stopped } from '../../ward/board/board-view.ts';
import { PatientStore } from './patient-store.ts';
import { RoomBoard, type RoomSource } from './room-board.ts';
import type { WardService } from './ward-answers.ts';
import { isHere, wardService } from './ward-service.ts';

export interface WardBoardOptions {
  site: string;
  room: string;
  zone: string;
  nowMs: () => number;
}

/** A stopped binding is shown for this long, or until that child's feed is bound, ms. Own choice. */
const STOPPED_MS = 60_000;
/** Bindings are read this often, ms, since another computer may have made them. */
const LOOK_UP_MS = 2000;

export function wardBoard(
  store: FeedJournal,
  source: RoomSource,
  { nowMs, zone, ...place }: WardBoardOptions,
  scheduler?: SchedulerLike,
): { board: RoomBoard; service: WardService; trouble: () => PlainError | null } {
  const patient = new PatientStore(store);
  let cots = new Map<number, string>();
  let lookedUpAtMs = Number.NEGATIVE_INFINITY;
  let stopped: { one: Stopped; atMs: number; heardOn: number | null }[] = [];
  const lookUp = (): void => {
    lookedUpAtMs = nowMs();
    const found = patient.ask(({ records }) => {
      const stays = records.stays().filter((stay) => isHere(stay, nowMs()));
      const cotOf = new Map(stays.map(({ babyId, cot }) => [babyId, cot]));
      return new Map(records.bindings().map(({ sleeve, babyId }) => [sleeve, cotOf.get(babyId) ?? '']));
    });
    if (found) cots = found;
  };
  const board = new RoomBoard(
    source,
    {
      ...place,
      cotOf: (sleeve) => {
        if (nowMs() - lookedUpAtMs >= LOOK_UP_MS) lookUp();
        return cots.get(sleeve) || null;
      },
      stopped: () => {
        stopped = stopped.filter(({ atMs }) => nowMs() - atMs < STOPPED_MS);
        return stopped.map(({ one }) => one);
      },
      // The bottle is another one from then on, and the sleeve is free for the next.
      onFeedOver: (sleeve) => {
        const atMs = nowMs();
        patient.write(({ records }) => records.feedOver(sleeve, atMs));
        // Also while the store cannot be told.
        cots.delete(sleeve);
        lookedUpAtMs = Number.NEGATIVE_INFINITY;
      },
    },
    scheduler,
  );
  const service = wardService(store, {
    nowMs,
    zone,
    isFeeding: (sleeve) => board.stateOf(sleeve)?.feedState === 'open',
    onStopped: (one, heardOn) => {
      // A feed that runs there is another one, and goes on.
      const isFeeding = heardOn !== null && board.stateOf(heardOn)?.feedState === 'open';
      const on = isOfTheBottle(one.code) && !isFeeding ? heardOn : null;
      const others = stopped.filter((other) => other.one.cot !== one.cot);
      stopped = [...others, { one, atMs: nowMs(), heardOn: on }];
      if (on !== null) source.stop?.(on, STOPPED_MS / 1000);
    },
  });
  const bind: WardService['bind'] = (texts, who) => {
    patient.ward(() => {});
    const answer = service.bind(texts, who);
    if (answer.state !== 'bound') return answer;
    lookedUpAtMs = Number.NEGATIVE_INFINITY;
    const over = stopped.filter(({ one }) => one.cot === answer.cot);
    stopped = stopped.filter(({ one }) => one.cot !== answer.cot);
    for (const sleeve of new Set([answer.sleeve, ...over.flatMap(({ heardOn }) => heardOn ?? [])]))
      source.stop?.(sleeve, 0);
    return answer;
  };
  // Nobody is kept from seeing the room because the trail cannot be written now.
  const opened: WardService['opened'] = (who) => {
    const atMs = nowMs();
    patient.write(({ trail }) => trail.add({ atMs, ...who, act: 'opened-board', babyId: null, more: null }));
  };
  return { board, service: { ...service, bind, opened }, trouble: () => patient.trouble };
}

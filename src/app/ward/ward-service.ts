/** Actions and views on a ward; each is recorded in the audit trail in the same transaction. */
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import type { Ward } from '../../store/ward/ward-records.ts';
import { type BindFacts, judgeBinding } from '../../ward/binding/bind.ts';
import type { Stopped } from '../../ward/board/board-view.ts';
import { codeForPeople, readCode } from '../../ward/labels/code.ts';
import type { Stay } from '../../ward/labels/label.ts';
import type { Deed } from '../../ward/people/deeds.ts';
import { childrenOf } from '../../ward/people/roles.ts';
import { handoverOf } from './handover.ts';
import { fillEntry, useByOf } from './milk-of-bottles.ts';
import type { BindAnswer, ChildHere, WardService, Who } from './ward-answers.ts';

export interface WardSurroundings {
  nowMs: () => number;
  zone: string;
  /** Whether a feed runs on a sleeve. */
  isFeeding: (sleeve: number) => boolean;
  /**
   * Called for a stopped binding, for the board.
   * @param heardOn  the sleeve that shows it too: the one that was scanned, or that is bound to the child
   */
  onStopped?: (stopped: Stopped, heardOn: number | null) => void;
}

const DAY_MS = 24 * 3600_000;
const labelsSchema = z.looseObject({ bottle: z.string(), child: z.string() });

export const isHere = ({ fromMs, untilMs }: Stay, nowMs: number): boolean =>
  fromMs <= nowMs && (untilMs === null || untilMs > nowMs);

export function wardService(store: FeedJournal, around: WardSurroundings): WardService {
  const { nowMs } = around;
  const logged = <T>(
    who: Who,
    act: Deed,
    of: { babyId?: string | null; more?: string | null },
    does: (ward: Ward) => T,
  ): T =>
    store.ward((ward) => {
      const answer = does(ward);
      const { babyId = null, more = null } = of;
      ward.trail.add({ atMs: nowMs(), ...who, act, babyId, more });
      return answer;
    });
  const service: WardService = {
    bind: (texts, who) => bind(store, around, texts, who),
    fill: (data, who) => fill(store, around, data, who),
    release(text, who) {
      const sleeve = sleeveCalled(store, text);
      logged(who, 'released', { more: `sleeve ${sleeve}` }, ({ records }) => records.unbind(sleeve, nowMs()));
    },
    children: (who) => logged(who, 'looked-at-children', {}, (ward) => childrenHere(store, ward, nowMs())),
    handover(asked, who) {
      const answer = handoverOf(store, { ...asked, zone: around.zone, nowMs: nowMs() });
      lookedAtFeeds(store, who, nowMs(), answer.of);
      return { ...answer.answer, trailMark: store.ward(({ trail }) => trail.mark()) };
    },
    async handoverPaper({ language, ending, ...asked }, who) {
      const { handoverPage, handoverPdf } = await import('../../paper/handover/handover-sheet.ts');
      const answer = service.handover(asked, who);
      return ending === 'html' ? handoverPage(answer, language) : handoverPdf(answer, language);
    },
    trail: (who) =>
      logged(who, 'looked-at-trail', {}, ({ trail }) => {
        const names = new Map(store.allBabies().map(({ id, name }) => [id, name]));
        return {
          lines: trail.latest({ limit: 500 }).map(({ seal: _seal, ...line }) => ({
            ...line,
            child: names.get(line.babyId ?? '') ?? line.babyId,
          })),
          broken: trail.firstBroken(),
        };
      }),
    isTrailAsMarked: (mark, who) => logged(who, 'compared-trail', {}, ({ trail }) => trail.isAsMarked(mark)),
    ownChildren(personId, who) {
      const now = nowMs();
      const own = childrenOf(
        { id: personId },
        store.ward(({ records }) => records.consents()),
        now,
      );
      const { answer, of } = handoverOf(store, {
        fromMs: now - 7 * DAY_MS,
        toMs: now,
        zone: around.zone,
        nowMs: now,
        only: own,
      });
      lookedAtFeeds(store, who, now, of);
      return answer;
    },
    opened: (who) => logged(who, 'opened-board', {}, () => {}),
  };
  return service;
}

/** One line in the trail for each child whose feeds were viewed. */
function lookedAtFeeds(store: FeedJournal, who: Who, atMs: number, babies: readonly string[]): void {
  store.ward(({ trail }) => {
    for (const babyId of babies) trail.add({ atMs, ...who, act: 'looked-at-feeds', babyId, more: null });
  });
}

function childrenHere(store: FeedJournal, { records }: Ward, nowMs: number): ChildHere[] {
  const names = new Map(store.listBabies().map(({ id, name }) => [id, name]));
  return records
    .stays()
    .filter((stay) => isHere(stay, nowMs))
    .map(({ babyId, cot }) => ({ babyId, cot, name: names.get(babyId) ?? babyId }));
}

function bind(store: FeedJournal, around: WardSurroundings, texts: readonly string[], who: Who): BindAnswer {
  const nowMs = around.nowMs();
  const useByMs = useByOf(store, nowMs);
  return store.ward(({ records, trail }) => {
    const facts: BindFacts = {
      labelOf: (code) => records.label(code),
      stays: records.stays(),
      fillings: records.fillings(),
      bindings: records.bindings(),
      useByMs,
      isFeeding: around.isFeeding,
      nowMs,
    };
    const verdict = judgeBinding(texts, facts);
    const labels = texts.map((text) => facts.labelOf(readCode(text) ?? ''));
    const babyId = labels.find((label) => label?.kind === 'child')?.babyId ?? null;
    const sleeve = labels.find((label) => label?.kind === 'sleeve')?.sleeve ?? null;
    const cot = facts.stays.find((stay) => stay.babyId === babyId && isHere(stay, nowMs))?.cot ?? null;
    const log = (act: Deed, more: string) => trail.add({ atMs: nowMs, ...who, act, babyId, more });
    if (verdict.state === 'stop') {
      log('stopped', verdict.stop);
      // Without a cot there is nothing to show on the board; the page that scanned shows the error.
      const own = facts.bindings.findLast((one) => one.babyId === babyId)?.sleeve ?? null;
      if (cot !== null) around.onStopped?.({ cot, sleeve, code: verdict.stop }, sleeve ?? own);
      return verdict;
    }
    if (verdict.state === 'more') return verdict;
    const { bind } = verdict;
    records.bind({ atMs: nowMs, by: who.person, ...bind });
    log('bound', `sleeve ${bind.sleeve}`);
    return { state: 'bound', cot: cot ?? '', sleeve: bind.sleeve, useByMs: bind.useByMs };
  });
}

/** In the milk ledger a filled bottle has its code and a number, since a bottle is filled many times. */
function fill(
  store: FeedJournal,
  { nowMs: now }: WardSurroundings,
  data: unknown,
  who: Who,
): { useByMs: number } {
  const nowMs = now();
  const parsed = labelsSchema.safeParse(data);
  if (!parsed.success)
    throw new PlainError('fill-labels', 'Scan the bottle’s and the child’s label.', 'Nothing was changed.');
  const { bottle: bottleText, child: childText, ...asked } = parsed.data;
  return store.ward(({ records, trail }) => {
    const of = (text: string, kind: 'bottle' | 'child') => {
      const label = records.label(readCode(text) ?? '');
      if (label && label.kind === kind && label.voidAtMs === null) return label;
      throw new PlainError(
        kind === 'child' ? 'not-a-child-label' : 'not-a-bottle-label',
        `"${text}" is not the label of a ${kind} here.`,
        'Scan it again; nothing was changed.',
      );
    };
    const bottle = of(bottleText, 'bottle').code;
    const babyId = of(childText, 'child').babyId!;
    if (records.bindings().some((one) => one.bottle === bottle))
      throw new PlainError(
        'bottle-in-use',
        'This bottle is bound for a feed.',
        'End that feed, or release its sleeve; nothing was changed.',
      );
    const into = `${codeForPeople(bottle)} ${store.readMilkEvents().length + 1}`;
    const entry = fillEntry(store, { data: asked, babyId, into, nowMs });
    records.endFilling(bottle, nowMs);
    store.appendMilkEvents([{ atMs: nowMs, babyId, container: into, kind: entry.what, entry }]);
    records.addFilling({ bottle, babyId, container: into, atMs: nowMs });
    trail.add({ atMs: nowMs, ...who, act: 'filled', babyId, more: codeForPeople(bottle) });
    return { useByMs: useByOf(store, nowMs)(into)! };
  });
}

function sleeveCalled(store: FeedJournal, text: string): number {
  const label = store.ward(({ records }) => records.label(readCode(text) ?? ''));
  if (label?.sleeve != null) return label.sleeve;
  throw new PlainError(
    'not-a-sleeve-label',
    `"${text}" is not the label of a sleeve here.`,
    'Scan it again; nothing was changed.',
  );
}

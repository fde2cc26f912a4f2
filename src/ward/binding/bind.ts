/**
 * Binds child, bottle and sleeve for one feed, or stops the feed before it begins. Pure. The labels may be scanned in any order; an error is
 * reported as soon as it is known: child and bottle are compared before the sleeve is scanned.
 */

import { readCode } from '../labels/code.ts';
import {
  type Binding,
  type Filling,
  LABEL_KINDS,
  type Label,
  type LabelKind,
  type Stay,
} from '../labels/label.ts';

/** Why a feed must not begin. The first that applies is shown: a wrong child comes before errors that are less dangerous. */
export const STOPS = [
  'label-unknown',
  'label-replaced',
  'label-twice',
  'wrong-child',
  'child-left',
  'bottle-empty',
  'milk-past',
  'milk-gone',
  'bottle-bound',
  'sleeve-feeding',
  'sleeve-bound',
] as const;
export type StopCode = (typeof STOPS)[number];

/** Those of a bottle that must not be given to this child, or to anybody. */
const OF_THE_BOTTLE: readonly StopCode[] = ['wrong-child', 'milk-past', 'milk-gone', 'bottle-bound'];
export const isOfTheBottle = (stop: StopCode): boolean => OF_THE_BOTTLE.includes(stop);

export interface BindFacts {
  labelOf: (code: string) => Label | null;
  stays: readonly Stay[];
  fillings: readonly Filling[];
  /** Bindings of feeds that are not over. */
  bindings: readonly Binding[];
  /** Until when the milk of a container may be used, by the milk ledger; null if the ledger no longer has it. */
  useByMs: (container: string) => number | null;
  /** Whether a feed runs on a sleeve. */
  isFeeding: (sleeve: number) => boolean;
  nowMs: number;
}

export interface ToBind {
  babyId: string;
  bottle: string;
  sleeve: number;
  container: string;
  useByMs: number;
}

export type Verdict =
  | {
      state: 'stop';
      stop: StopCode /** What was scanned that it is about, as it was read. */;
      text: string | null;
    }
  /** No error so far. */
  | { state: 'more'; has: LabelKind[]; needs: LabelKind[] }
  | { state: 'bind'; bind: ToBind };

const stopped = (stop: StopCode, text: string | null = null): Verdict => ({ state: 'stop', stop, text });

/** @param texts as scanned or typed, in any order */
export function judgeBinding(texts: readonly string[], facts: BindFacts): Verdict {
  const labels = new Map<LabelKind, Label>();
  for (const text of texts) {
    const code = readCode(text);
    const label = code === null ? null : facts.labelOf(code);
    if (!label) return stopped('label-unknown', text);
    // Of a child who has left no label is good, and none is newer.
    const hasLeft = label.kind === 'child' && stopOfChild(label, facts) !== null;
    if (label.voidAtMs !== null) return stopped(hasLeft ? 'child-left' : 'label-replaced', text);
    const before = labels.get(label.kind);
    if (before && before.code !== label.code) return stopped('label-twice', text);
    labels.set(label.kind, label);
  }
  const [child, bottle, sleeve] = [labels.get('child'), labels.get('bottle'), labels.get('sleeve')];
  const filling = bottle ? (facts.fillings.findLast((one) => one.bottle === bottle.code) ?? null) : null;
  const stop =
    (child && bottle && filling && filling.babyId !== child.babyId ? 'wrong-child' : null) ??
    (child && stopOfChild(child, facts)) ??
    (bottle && stopOfBottle(bottle, filling, facts)) ??
    (sleeve && stopOfSleeve(sleeve, facts));
  // Which one can be released is said.
  if (stop) return stopped(stop, stop === 'sleeve-bound' ? sleeve!.code : null);
  if (!child || !bottle || !sleeve || !filling)
    return {
      state: 'more',
      has: LABEL_KINDS.filter((kind) => labels.has(kind)),
      needs: LABEL_KINDS.filter((kind) => !labels.has(kind)),
    };
  const { container } = filling;
  return {
    state: 'bind',
    bind: {
      babyId: child.babyId!,
      bottle: bottle.code,
      sleeve: sleeve.sleeve!,
      container,
      useByMs: facts.useByMs(container)!,
    },
  };
}

function stopOfChild({ babyId }: Label, { stays, nowMs }: BindFacts): StopCode | null {
  const isHere = stays.some(
    (stay) =>
      stay.babyId === babyId && stay.fromMs <= nowMs && (stay.untilMs === null || stay.untilMs > nowMs),
  );
  return isHere ? null : 'child-left';
}

function stopOfBottle({ code }: Label, filling: Filling | null, facts: BindFacts): StopCode | null {
  if (!filling) return 'bottle-empty';
  const useByMs = facts.useByMs(filling.container);
  if (useByMs === null) return 'milk-gone';
  if (useByMs <= facts.nowMs) return 'milk-past';
  // If it is already bound to another sleeve, two feeds would count the same bottle.
  return facts.bindings.some(({ bottle }) => bottle === code) ? 'bottle-bound' : null;
}

function stopOfSleeve({ sleeve }: Label, facts: BindFacts): StopCode | null {
  if (facts.isFeeding(sleeve!)) return 'sleeve-feeding';
  return facts.bindings.some((one) => one.sleeve === sleeve) ? 'sleeve-bound' : null;
}

/**
 * Changes choices of the estimator for one run of the bench: its noise model lies in plain objects, read when a sensor is made or at each step.
 * A name that is not there throws, so that no row of the ablation can quietly say nothing.
 */
import { MOUTH } from '../../../src/sensing/mouth/mouth.ts';
import { BANK, type BankMember, MEASUREMENT, MOUTH_NOISE } from '../../../src/sensing/noise.ts';

export interface Choices {
  /** Laid over the noise of every filter. */
  noise?: Partial<BankMember['noise']>;
  /** Laid over every filter of the bank but its noise. */
  member?: Partial<Omit<BankMember, 'noise'>>;
  /** Which filters of the bank are left, by index. */
  filters?: readonly number[];
  bank?: Record<string, number>;
  measurement?: Record<string, number>;
  mouth?: Record<string, number>;
  mouthNoise?: Record<string, number>;
}

function lay(target: object, over: Record<string, unknown>, undo: (() => void)[]): void {
  const plain = target as Record<string, unknown>;
  for (const [key, entry] of Object.entries(over)) {
    if (!(key in plain)) throw new Error(`bench: the estimator has no "${key}" to change.`);
    const before = plain[key];
    undo.push(() => {
      plain[key] = before;
    });
    plain[key] = entry;
  }
}

/** @returns what `run` gives while the estimator is changed so; afterwards it is as before */
export function withChoices<T>(choices: Choices, run: () => T): T {
  const undo: (() => void)[] = [];
  try {
    const kept = choices.filters?.map((i) => BANK.filters[i]!) ?? BANK.filters;
    for (const member of kept) for (const name of Object.keys(choices.member ?? {})) needs(member, name);
    for (const member of kept) for (const name of Object.keys(choices.noise ?? {})) needs(member.noise, name);
    const filters = kept.map((member) => ({
      ...member,
      ...choices.member,
      noise: { ...member.noise, ...choices.noise },
    }));
    lay(BANK, { ...choices.bank, filters }, undo);
    lay(MEASUREMENT, choices.measurement ?? {}, undo);
    lay(MOUTH, choices.mouth ?? {}, undo);
    lay(MOUTH_NOISE, choices.mouthNoise ?? {}, undo);
    return run();
  } finally {
    for (const back of undo.reverse()) back();
  }
}

function needs(target: object, name: string): void {
  if (!(name in target)) throw new Error(`bench: the estimator has no "${name}" to change.`);
}

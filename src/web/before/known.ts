/** Values entered for earlier feeds, to be offered again. Pure. */
import { nameKey, sameName } from '../../base/babies.ts';
import type { FeedSetup, TeatFlow } from '../../feed/record/feed.ts';

export interface Baby {
  babyName: string;
  babyBirthDate: string | null;
}

export interface Known {
  babies: Baby[];
  bottles: string[];
  teats: string[];
  /** The latest answer about a nipple's flow, by its name in lower case. */
  teatFlows: Readonly<Record<string, TeatFlow>>;
  caregivers: string[];
}

/** @param setups  latest first; the latest birth date of a name counts */
export function knownFrom(setups: readonly FeedSetup[]): Known {
  const babies: Baby[] = [];
  for (const { babyName, babyBirthDate } of setups) {
    if (babyName === null) continue;
    const known = babies.find((baby) => sameName(baby.babyName, babyName));
    if (!known) babies.push({ babyName, babyBirthDate });
    else if (known.babyBirthDate === null) known.babyBirthDate = babyBirthDate;
  }
  return {
    babies,
    bottles: distinct(setups.map((setup) => setup.bottleName)),
    teats: distinct(setups.map((setup) => setup.teatName ?? null)),
    teatFlows: flowsOf(setups),
    caregivers: distinct(setups.map((setup) => setup.caregiver)),
  };
}

/** The latest answer counts. */
function flowsOf(setups: readonly FeedSetup[]): Record<string, TeatFlow> {
  const flows: Record<string, TeatFlow> = {};
  for (const { teatName, teatFlow } of setups)
    if (teatName && teatFlow) flows[nameKey(teatName)] ??= teatFlow;
  return flows;
}

const distinct = (texts: readonly (string | null)[]): string[] => [
  ...new Set(texts.filter((text) => text !== null)),
];

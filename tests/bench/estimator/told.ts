/** What the reference filter is told of a feed: its sucks, as the truth has them. */
import { MILK_DENSITY_GRAMS_PER_ML } from '../../../src/base/units.ts';
import { type Truth, truthAt } from '../../support/judge.ts';

const SUCKS_OF_A_MINUTE = 12;
const OTHER_RATIO = 1.6;

/** Sucks' worth of milk up to each moment: none for a suck that gave none. Milk comes between a quarter and 85 % of a suck (as both simulators have it, about). */
export function unitsUntil(truth: Truth): (atSec: number) => number {
  const sucks = truth.suckTimes;
  const gave = sucks.map((sec, i) => {
    const end = Math.min(sucks[i + 1] ?? sec + 1, sec + 1.2);
    const taken = truthAt(truth, truth.intakeSoFarMl, end + 0.15) - truthAt(truth, truth.intakeSoFarMl, sec);
    return { from: sec + 0.2 * (end - sec), to: sec + 0.85 * (end - sec), some: taken > 0.01 };
  });
  let done = 0;
  let sum = 0;
  return (atSec) => {
    while (done < gave.length && gave[done]!.to <= atSec) sum += gave[done++]!.some ? 1 : 0;
    const now = gave[done];
    if (!now?.some || atSec <= now.from) return sum;
    return sum + (atSec - now.from) / (now.to - now.from);
  };
}

/** True mean of the first sucks that gave milk, g. */
export function firstSucksGrams(truth: Truth, sucks: number): number {
  const { suckTimes } = truth;
  const until = suckTimes[Math.min(sucks, suckTimes.length - 1)]!;
  return (truthAt(truth, truth.intakeSoFarMl, until) * MILK_DENSITY_GRAMS_PER_ML) / sucks;
}

/** When sucks began to give far more or less for good: the mean of a minute against that of the minute before, nipple in. Rising, seconds. */
export function otherSucksAtSec(truth: Truth): number[] {
  const meanOf = (fromSec: number, toSec: number): number => {
    const sucks = truth.suckTimes.filter((sec) => sec >= fromSec && sec < toSec).length;
    const at = (sec: number) => truthAt(truth, truth.intakeSoFarMl, sec);
    return sucks < SUCKS_OF_A_MINUTE ? Number.NaN : (at(toSec) - at(fromSec)) / sucks;
  };
  const times: number[] = [];
  for (let sec = 60; sec < truth.atSec.at(-1)! - 60; sec += 1) {
    const ratio = meanOf(sec, sec + 60) / meanOf(sec - 60, sec);
    const other = ratio > OTHER_RATIO || ratio < 1 / OTHER_RATIO;
    if (other && sec - (times.at(-1) ?? Number.NEGATIVE_INFINITY) > 60) times.push(sec);
  }
  return times;
}

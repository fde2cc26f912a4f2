/** Entries of the milk ledger from the options of the command line. */
import { dayOf, instantAt } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import { mlFromFlOz } from '../../base/units.ts';
import { PLACES, type Place } from '../../planning/milk/places.ts';
import type { Surroundings } from './plan-for.ts';

export interface MilkOptions {
  amount?: string;
  place?: Place;
  kind?: 'expressed' | 'formula' | 'mixed';
  /** Of the container. */
  label?: string;
  feed?: string;
  /** Of the entry that is taken back. */
  number?: string;
  /** "HH:MM"; now without it. */
  at?: string;
  /** YYYY-MM-DD; today without it. */
  day?: string;
  json?: boolean;
  simulated?: boolean;
}

export type MilkStep =
  | 'list'
  | 'add'
  | 'move'
  | 'thaw'
  | 'warm'
  | 'hold'
  | 'release'
  | 'discard'
  | 'fed'
  | 'take-back';

/** @returns what to enter; null if the list is only shown */
export function askedOf(
  step: MilkStep,
  options: MilkOptions,
  surroundings: Surroundings,
  nextLabel: string,
): object | null {
  const atMs = instantOf(options, surroundings);
  const { label: id, feed } = options;
  const one = (entry: object) => ({ entries: [{ atMs, ...entry }] });
  switch (step) {
    case 'list':
      return null;
    case 'add':
      return one({
        what: 'got',
        id: id ?? nextLabel,
        kind: options.kind,
        ml: amountOf(options.amount),
        place: placeOf(options),
      });
    case 'move':
      return one({ what: 'stored', id, place: placeOf(options) });
    case 'thaw':
      return one({ what: 'thawed', id });
    case 'warm':
      return one({ what: 'warmed', id });
    case 'hold':
    case 'release':
      return one({ what: 'held-back', id, on: step === 'hold' });
    case 'discard':
      return one({ what: 'discarded', id });
    case 'fed':
      return { confirm: { feed, container: id } };
    case 'take-back':
      return one({ what: 'taken-back', no: Number(options.number) });
  }
}

/** "3 fl oz", "2.5oz", "90 mL". @returns mL */
export function amountOf(text: string | undefined): number {
  const [, number, unit] = /^\s*(\d+(?:[.,]\d+)?)\s*(fl\s?oz|oz|ml)\s*$/i.exec(text ?? '') ?? [];
  if (number === undefined)
    throw new PlainError(
      'amount-impossible',
      text === undefined ? 'The amount is missing.' : `"${text}" is no amount of milk.`,
      'Write it with its unit: --amount "3 fl oz" or --amount "90 mL".',
    );
  const value = Number(number.replace(',', '.'));
  return Math.round((/ml/i.test(unit!) ? value : mlFromFlOz(value)) * 100) / 100;
}

function placeOf({ place }: MilkOptions): string {
  if (place !== undefined) return place;
  throw new PlainError(
    'place-missing',
    'The place is missing.',
    `Write --place and one of: ${PLACES.join(', ')}.`,
  );
}

function instantOf({ at, day }: MilkOptions, { nowMs, zone }: Surroundings): number {
  const now = nowMs();
  if (at === undefined && day === undefined) return now;
  // The previous version accepted the day before the clock time.
  const [, dayBefore, clock] = /^(?:(\d{4}-\d{2}-\d{2})[ T])?(\d{1,2}:\d{2})$/.exec(at?.trim() ?? '') ?? [];
  if (clock === undefined)
    throw new PlainError(
      'time-impossible',
      at === undefined ? 'The time is missing.' : `"${at}" is no time.`,
      'Write --at 07:30 for today, or --day 2026-05-12 --at 07:30.',
    );
  return instantAt(day ?? dayBefore ?? dayOf(now, zone), clock.padStart(5, '0'), zone);
}

/** `ebbline plan`: how many bottles of which size for a day away. */
import { familySurroundings } from '../../app/kept/family-zone.ts';
import { runningNipples } from '../../app/nipples/nipple-passports.ts';
import { babyOf, milkFrom } from '../../app/packing/plan-asked.ts';
import { planFor } from '../../app/packing/plan-for.ts';
import { dayAfter, dayOf } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import { type PackingSettings, readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { warnOpen } from '../feeds/whose.ts';
import { say, sayJson } from '../print-out.ts';
import { withStore } from '../with-store.ts';
import { planText } from './plan-text.ts';

export interface PlanOptions {
  /** "08:30-17:30"; her usual hours without it. */
  away?: string;
  day?: string;
  feeds?: number;
  baby?: string;
  born?: string;
  /** File of containers, JSON. */
  milk?: string;
  /** Days of 100 on which it may run short. */
  shortDays?: number;
  mostBottles?: number;
  json?: boolean;
  simulated?: boolean;
}

/** @throws PlainError, with the option to correct */
export async function planCommand(options: PlanOptions): Promise<void> {
  await withStore(options, (store) => {
    const surroundings = familySurroundings(store);
    const { zone } = surroundings;
    const now = surroundings.nowMs();
    const settings = settingsFor(readPackingSettings(store.readPacking()), options);
    warnOpen(store);
    const baby = babyOf(store, options, now);
    const [from, until] = hoursOf(options, settings);
    const ask = {
      birthDay: baby.birthDay,
      day: options.day ?? dayAfter(dayOf(now, zone)),
      from,
      until,
      feeds: options.feeds ?? null,
    };
    const milk = options.milk === undefined ? undefined : milkFrom(options.milk, now);
    const { answer } = planFor(store, ask, baby, surroundings, { settings, ...(milk && { milk }) });
    if (options.json) return sayJson(answer);
    say(planText(answer, zone));
    for (const nipple of runningNipples(dataFolder({ simulated: options.simulated ?? false })))
      say(
        `The nipple “${nipple}”, as measured, gives milk faster than the pace by itself: better send another.`,
      );
  });
}

const settingsFor = (kept: PackingSettings, { shortDays, mostBottles }: PlanOptions): PackingSettings =>
  readPackingSettings({
    ...kept,
    ...(shortDays !== undefined && { shortLimit: shortDays / 100 }),
    ...(mostBottles !== undefined && { mostBottles }),
  });

function hoursOf({ away }: PlanOptions, { usualHours }: PackingSettings): [string, string] {
  if (away === undefined) return [usualHours.from, usualHours.until];
  const [, from, until] = /^(\d{1,2}:\d{2})\s*-\s*(\d{1,2}:\d{2})$/.exec(away) ?? [];
  if (!from || !until)
    throw new PlainError('away-impossible', `"${away}" is no time away.`, 'Write it as --away 08:30-17:30.');
  return [from.padStart(5, '0'), until.padStart(5, '0')];
}

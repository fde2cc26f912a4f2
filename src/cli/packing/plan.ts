/** `ebbline plan`: how many bottles of which size for a day away. */
import { familySurroundings } from '../../app/kept/family-zone.ts';
import { babyOf, hoursOf, milkFrom, type PlanOptions, settingsFor } from '../../app/packing/plan-asked.ts';
import { planFor } from '../../app/packing/plan-for.ts';
import { planText } from '../../app/packing/plan-text.ts';
import { runningTeats } from '../../app/teats/teat-passports.ts';
import { dayAfter, dayOf } from '../../base/calendar.ts';
import { readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { warnOpen } from '../feeds/whose.ts';
import { say, sayJson } from '../print-out.ts';
import { withStore } from '../with-store.ts';

/** @throws PlainError that names the option to correct */
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
    for (const nipple of runningTeats(store.files))
      say(
        `The nipple “${nipple}”, as measured, gives milk faster than the pace by itself: better send another.`,
      );
  });
}

/** `ebbline plan`: how many bottles of which size for a day away. */
import { type PlanOptions, planAsAsked } from '../../app/packing/plan-asked.ts';
import { planText } from '../../app/packing/plan-text.ts';
import { runningTeats } from '../../app/teats/teat-passports.ts';

import { warnOpen } from '../feeds/whose.ts';
import { answer } from '../print-out.ts';
import { withStore } from '../with-store.ts';

/** @throws PlainError that names the option to correct */
export const planCommand = (options: PlanOptions): Promise<void> =>
  withStore(options, (store) => {
    warnOpen(store);
    const { plan, zone } = planAsAsked(store, options);
    return answer(options.json, plan, () => [
      planText(plan, zone),
      ...runningTeats(store.files).map(
        (nipple) =>
          `The nipple “${nipple}”, as measured, gives milk faster than the pace by itself: better send another.`,
      ),
    ]);
  });

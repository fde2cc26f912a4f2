/** What the parent's commands do: the plan, the milk list, the printed sheets. */
import { familySurroundings } from '../../app/kept/family-zone.ts';
import { endingOf } from '../../app/out-file.ts';
import { askedOf, type MilkOptions, type MilkStep } from '../../app/packing/milk-asked.ts';
import { milkText } from '../../app/packing/milk-text.ts';
import type { SheetName } from '../../app/packing/packing-answers.ts';
import { packingService } from '../../app/packing/packing-service.ts';
import { planAsAsked } from '../../app/packing/plan-asked.ts';
import { planText } from '../../app/packing/plan-text.ts';
import { type SheetAsked, sheetAsAsked } from '../../app/packing/sheet-asked.ts';
import { runningTeats } from '../../app/teats/teat-passports.ts';
import { PAPER_ENDINGS } from '../../paper/paper-ending.ts';
import { shown, writeOut } from '../print-out.ts';
import { type Kept, onBabies, onStore } from '../with-store.ts';
import type { PackingRuns } from './commands.ts';

/** One entry of the milk list, or none, and then the list. */
const milk = (step: MilkStep) =>
  onStore((store, given: MilkOptions) => {
    const surroundings = familySurroundings(store);
    const service = packingService(store, surroundings);
    const before = service.milk();
    const asked = askedOf(step, given, surroundings, before.nextLabel);
    const now = asked ? service.enterMilk(asked) : before;
    return shown(given.json, now, (all) => milkText(all, surroundings.zone));
  });

const sheet = (name: SheetName) =>
  onBabies(async (store, given: SheetAsked & Kept & { out?: string; force?: boolean }) => {
    const { out = `${name}.pdf` } = given;
    const ending = endingOf(out, PAPER_ENDINGS);
    return writeOut(out, await sheetAsAsked(store, name, ending, given), given);
  });

export const runs: PackingRuns = {
  plan: onBabies((store, given) => {
    const { plan, zone } = planAsAsked(store, given);
    return shown(given.json, plan, () => planText(plan, zone, runningTeats(store.files)));
  }),
  'milk list': milk('list'),
  'milk add': milk('add'),
  'milk move': milk('move'),
  'milk thaw': milk('thaw'),
  'milk warm': milk('warm'),
  'milk hold': milk('hold'),
  'milk release': milk('release'),
  'milk discard': milk('discard'),
  'milk fed': milk('fed'),
  'milk take-back': milk('take-back'),
  'print feeding-plan': sheet('feeding-plan'),
  'print day-sheet': sheet('day-sheet'),
};

/** `ebbline milk`: the milk list, and what happens to milk, one step a call. */
import { familySurroundings } from '../../app/kept/family-zone.ts';
import { askedOf, type MilkOptions, type MilkStep } from '../../app/packing/milk-asked.ts';
import { milkText } from '../../app/packing/milk-text.ts';
import { packingService } from '../../app/packing/packing-service.ts';
import { answer } from '../print-out.ts';
import { withStore } from '../with-store.ts';

/** @throws PlainError; then nothing is written */
export const milkCommand = (step: MilkStep, names: string[], options: MilkOptions): Promise<void> =>
  withStore(options, (store) => {
    const surroundings = familySurroundings(store);
    const service = packingService(store, surroundings);
    const before = service.milk();
    const asked = askedOf(step, names, options, surroundings, before.nextLabel);
    const now = asked ? service.enterMilk(asked) : before;
    return answer(options.json, now, (milk) => milkText(milk, surroundings.zone));
  });

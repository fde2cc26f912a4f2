/** Deleting a baby for good, in the data folder with all that lies inside it, or at a site of a database. */
import { sameName } from '../../base/babies.ts';
import { PlainError } from '../../base/errors.ts';
import { type ForgetResult, forgetBaby } from '../../store/portable/forget.ts';
import { forgetInFolder, keptOf } from '../../store/portable/forget-folder.ts';
import type { HeldFolder } from '../../store/portable/held-folder.ts';
import { type CountedBaby, countOf } from '../../store/portable/whom-to-forget.ts';
import { holdPlace, type KeptPlace } from './kept-place.ts';

export interface Forgetting {
  where: string;
  kept: CountedBaby;
  forget(): Promise<ForgetResult>;
}

/** @param ask  a person, who answers null at the end of input; null: there is nobody @throws PlainError forget-unsure */
export async function makeSure(
  baby: string,
  ask: ((question: string) => Promise<string | null>) | null,
): Promise<void> {
  if (ask === null) throw unsure(': nobody confirmed it', 'Add --yes if you are sure.');
  const name = await ask('Type the name of the baby to go on: ');
  if (name === null || !sameName(name, baby) || (await ask('Delete it all? Type yes: ')) !== 'yes')
    throw unsure('', 'Run it again if you are sure.');
}

const unsure = (why: string, remedy: string): PlainError =>
  new PlainError('forget-unsure', `Nothing was deleted${why}.`, remedy);

/** @returns what would be deleted, and how @throws PlainError forget-nobody, forget-which, store-recording … */
export async function forgetting(place: KeptPlace, baby: string): Promise<Forgetting> {
  if (typeof place === 'string')
    return { where: place, kept: keptOf(place, baby), forget: async () => forgetInFolder(place, baby) };
  const held = async <T>(act: (held: HeldFolder) => T): Promise<T> => {
    const folder = await holdPlace(place);
    try {
      return act(folder);
    } finally {
      folder.close();
    }
  };
  const [where, kept] = await held(({ folder, database }) => [folder, countOf(database, baby)] as const);
  const all = [baby, ...(kept.id === null ? [] : [kept.id]), kept.name];
  return { where, kept, forget: () => held((folder) => forgetBaby(folder, all)) };
}

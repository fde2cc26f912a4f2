/** Real and simulated feeds are never stored together. */
import { PlainError } from '../base/errors.ts';

/** @param holdsSimulated  null if the folder has no feed @throws PlainError store-mixed */
export function refuseMixing(folder: string, holdsSimulated: boolean | null, isSimulated: boolean): void {
  if (holdsSimulated === null || holdsSimulated === isSimulated) return;
  const [kept, refused] = holdsSimulated ? ['simulated', 'real'] : ['real', 'simulated'];
  throw new PlainError(
    'store-mixed',
    `The folder ${folder} holds ${kept} feeds; a ${refused} one is never kept among them.`,
    'Set EBBLINE_DATA to another folder.',
  );
}

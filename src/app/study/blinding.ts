/** Blinding: until a study is closed, its curves do not show which arm is which. */
import { PlainError } from '../../base/errors.ts';
import type { StudyFolder } from './study-folder.ts';

export const isClosed = (study: StudyFolder): boolean =>
  study.auditLines().some(({ what }) => what === 'closed');

/** A study with one arm is not blinded. */
export const isBlinded = (study: StudyFolder): boolean => study.protocol.arms.length > 1 && !isClosed(study);

/** @returns what to call each arm: its own code once the study is closed, before that a number, in an order drawn by the study's own key */
export function armNames(study: StudyFolder): (arm: string) => string {
  if (!isBlinded(study)) return (arm) => arm;
  const order = study.random('names of the arms').shuffled(study.protocol.arms.map(({ code }) => code));
  return (arm) => `coded-${order.indexOf(arm) + 1}`;
}

/** @throws PlainError study-closed */
export function refuseClosed(study: StudyFolder): void {
  if (!isClosed(study)) return;
  throw new PlainError(
    'study-closed',
    `Study ${study.protocol.code} is closed: its arms are known now.`,
    'Begin another study for further participants. Nothing was changed.',
  );
}

/** From now on arms are called by their own codes; no participant can be added. @throws PlainError study-closed */
export function closeStudy(study: StudyFolder): void {
  refuseClosed(study);
  study.audit('closed', study.protocol.code);
}

/**
 * The milk ledger: what was expressed, stored, thawed, warmed, poured, offered, fed and discarded, as a list of entries that is
 * only added to. The state is what the entries come to; an entry that cannot be is refused whole. It never says that milk is
 * safe: it says which published time, or rule of the place, has passed.
 */
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import { EMPTY_LEDGER, entrySchema, type Ledger, type LedgerEntry, refuse } from './ledger-state.ts';
import { changed, discarded, fed, got, offered, poured } from './ledger-steps.ts';
import { type Container, inOrderOfUse } from './milk.ts';
import { type Judged, judged, type LocalTime, type MilkClock } from './milk-times.ts';
import { cameBack, liveFor, promised, went } from './promises.ts';

/**
 * All entries of a file or a form, in order.
 * @param nowMs nothing may be dated after it
 * @throws PlainError that names the entry; the ledger before it is untouched
 */
export function ledgerOf(data: unknown, nowMs: number, before: Ledger = EMPTY_LEDGER): Ledger {
  const parsed = z.array(entrySchema).safeParse(data);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const [row, ...field] = issue!.path;
    const where = row === undefined ? 'The ledger' : `Entry ${Number(row) + 1}`;
    throw refuse(
      'entry-invalid',
      `${where}${field.length > 0 ? `, ${field.join('.')}` : ''}: ${issue!.message}`,
    );
  }
  return parsed.data.reduce((ledger, entry, i) => {
    try {
      return withEntry(ledger, entry, nowMs);
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      throw new PlainError(error.code, `Entry ${i + 1}: ${error.message}`, error.remedy, { cause: error });
    }
  }, before);
}

/** @returns the ledger with one entry more; the old one stays as it was. @throws PlainError when it cannot be */
export function withEntry(ledger: Ledger, entry: LedgerEntry, nowMs: number): Ledger {
  if (entry.atMs > nowMs) throw refuse('date-in-future', 'Its date lies in the future');
  switch (entry.what) {
    case 'got':
      return got(ledger, entry);
    case 'poured':
      return poured(ledger, entry);
    case 'offered':
      return offered(ledger, entry);
    case 'fed':
      return fed(ledger, entry);
    case 'discarded':
      return discarded(ledger, entry);
    case 'promised':
      return promised(ledger, entry);
    case 'went':
      return went(ledger, entry);
    case 'came-back':
      return cameBack(ledger, entry);
    default:
      return changed(ledger, entry, nowMs);
  }
}

/**
 * Neither gone nor offered, in order of use; its times may have passed.
 * @param plan what is promised to another plan that is not over yet is left out
 */
export const onHand = (ledger: Ledger, plan?: { name: string; atMs: number }): Container[] =>
  inOrderOfUse(
    Object.values(ledger.containers)
      .filter(({ gone, offered: was }) => gone === null && was === null)
      .filter(({ container }) => {
        const other = plan && liveFor(ledger, container.id, plan.atMs);
        return !other || other === plan.name;
      })
      .map(({ container }) => container),
  );

export interface ContainerState extends Judged {
  container: Container;
  /** Those of its clocks that have passed. */
  passed: MilkClock[];
  /** What is to be said of its times: the one that decides, and what passed before that. */
  told: MilkClock[];
  /** The plan that it is promised to and that is not over yet. */
  promisedTo: string | null;
}

/** Every container that is not gone, with its clocks now. */
export function containerStates(ledger: Ledger, nowMs: number, local: readonly LocalTime[] = []): ContainerState[] {
  const { kept } = ledger;
  const present = Object.values(kept).filter(({ gone }) => gone === null);
  const order = inOrderOfUse(present.map(({ container }) => container));
  return order.map((container) => {
    const times = judged(container, kept[container.id]!.offered, local);
    const passed = times.clocks.filter(({ passesAtMs }) => passesAtMs <= nowMs);
    const before = passed.filter(({ passesAtMs }) => passesAtMs < times.deciding.passesAtMs);
    const told = [times.deciding, ...before].filter(
      ({ passesAtMs }, i, all) => all.findIndex((one) => one.passesAtMs === passesAtMs) === i,
    );
    return { container, ...times, passed, told, promisedTo: liveFor(ledger, container.id, nowMs) };
  });
}

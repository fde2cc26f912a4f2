import { type Ledger, type LedgerEntry, refuse } from './ledger-state.ts';
import { changed, discarded, fed, got, offered, poured } from './ledger-steps.ts';
import { type Container, inOrderOfUse } from './milk.ts';
import { type Judged, judged, type LocalTime, type MilkClock } from './milk-times.ts';
import { cameBack, liveFor, promised, went } from './promises.ts';

/** @returns the ledger with one entry more; the old one is not changed. @throws PlainError when the entry is impossible */
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
 * Containers that are neither used up nor offered, in order of use; their times may have passed.
 * @param plan containers reserved for another plan that is not over yet are left out
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
  /** The clocks that have passed. */
  passed: MilkClock[];
  /** The clocks to show: the deciding one, and those that passed before it. */
  told: MilkClock[];
  /** The plan that it is reserved for, if that is not over yet. */
  promisedTo: string | null;
}

/** Every container that is not used up, with its clocks now. */
export function containerStates(
  ledger: Ledger,
  nowMs: number,
  local: readonly LocalTime[] = [],
): ContainerState[] {
  const { containers } = ledger;
  const present = Object.values(containers).filter(({ gone }) => gone === null);
  const order = inOrderOfUse(present.map(({ container }) => container));
  return order.map((container) => {
    const times = judged(container, containers[container.id]!.offered, local);
    const passed = times.clocks.filter(({ passesAtMs }) => passesAtMs <= nowMs);
    const before = passed.filter(({ passesAtMs }) => passesAtMs < times.deciding.passesAtMs);
    const told = [times.deciding, ...before].filter(
      ({ passesAtMs }, i, all) => all.findIndex((one) => one.passesAtMs === passesAtMs) === i,
    );
    return { container, ...times, passed, told, promisedTo: liveFor(ledger, container.id, nowMs) };
  });
}

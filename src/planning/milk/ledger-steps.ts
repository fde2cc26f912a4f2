/** The effect of each kind of entry on the milk ledger: state in, state out; an impossible entry is refused as a whole. */

import { change, type Ledger, type LedgerEntry, own, present, refuse, tidy } from './ledger-state.ts';
import { type Container, checkDates, fromList } from './milk.ts';
import { moved, pooled } from './milk-stays.ts';
import type { Offered } from './milk-times.ts';
import { isFrozen } from './places.ts';
import { handedOn } from './promises.ts';

/** A smaller amount is within the error of a reading and counts as nothing. */
const DROP_ML = 0.5;

function fieldsOf(
  entry: Extract<LedgerEntry, { what: 'stored' | 'thawed' | 'warmed' | 'held-back' }>,
  { id, place, kind, thawedAtMs, warmedAtMs, strands }: Container,
): Partial<Container> {
  const sinceMs = entry.atMs;
  const goesFrozen = entry.what === 'stored' && isFrozen(entry);
  // Milk taken out of the freezer counts as thawed from that moment, whatever the entry says.
  const thawed = { thawedAtMs: isFrozen({ place }) && !goesFrozen ? sinceMs : thawedAtMs };
  switch (entry.what) {
    case 'stored':
      if (entry.place === place) return {};
      return { ...thawed, place: entry.place, strands: moved(strands, { sinceMs, place: entry.place }) };
    case 'held-back':
      return { heldBack: entry.on };
    case 'thawed':
      if (!isFrozen({ place })) throw refuse('not-frozen', `Container ${id} is not in the freezer`);
      return { ...thawed, place: 'fridge', strands: moved(strands, { sinceMs, place: 'fridge' }) };
    case 'warmed':
      if (isFrozen({ place }) && kind === 'formula') throw refuse('not-thawed', `Container ${id} is frozen`);
      // If milk is warmed again, the first time counts.
      return {
        ...thawed,
        place: 'room',
        warmedAtMs: warmedAtMs ?? sinceMs,
        strands: moved(strands, { sinceMs, place: 'room', warmed: true }),
      };
  }
}

/** Moved, thawed, warmed, held back or released: the container changes, the amount of milk does not. */
export function changed(
  ledger: Ledger,
  entry: Extract<LedgerEntry, { what: 'stored' | 'thawed' | 'warmed' | 'held-back' }>,
  nowMs: number,
): Ledger {
  const found = present(ledger, entry.id, entry.atMs);
  const container = { ...found.container, ...fieldsOf(entry, found.container) };
  checkDates(container, nowMs);
  return change(ledger, entry, { ...found, container });
}

export function discarded(ledger: Ledger, entry: Extract<LedgerEntry, { what: 'discarded' }>): Ledger {
  const found = present(ledger, entry.id, entry.atMs);
  const { volumeMl } = found.container;
  const totals = { ...ledger.totals, discardedMl: ledger.totals.discardedMl + volumeMl };
  const container = { ...found.container, volumeMl: 0 };
  return change({ ...ledger, totals }, entry, { ...found, container, gone: 'discarded' });
}

export function got(ledger: Ledger, entry: Extract<LedgerEntry, { what: 'got' }>): Ledger {
  const { id, kind, ml, place, atMs } = entry;
  if (own(ledger.containers, id))
    throw refuse(
      'container-twice',
      `Container ${id} is in the ledger already`,
      'Give the new one a label of its own.',
    );
  const container = fromList({
    id,
    kind,
    volumeMl: ml,
    expressedAtMs: atMs,
    place,
    thawedAtMs: null,
    warmedAtMs: null,
    heldBack: false,
  });
  const totals = { ...ledger.totals, gotMl: ledger.totals.gotMl + ml };
  return change({ ...ledger, totals }, entry, { container, offered: null, gone: null, latestAtMs: atMs });
}

export function poured(ledger: Ledger, entry: Extract<LedgerEntry, { what: 'poured' }>): Ledger {
  const { into, from, atMs } = entry;
  if (own(ledger.containers, into))
    throw refuse(
      'container-twice',
      `Container ${into} is in the ledger already`,
      'Give the new one a label of its own.',
    );
  let next = ledger;
  let volumeMl = 0;
  const sources: Container[] = [];
  for (const { id, ml } of from) {
    const found = present(next, id, atMs);
    const { container } = found;
    if (found.offered)
      throw refuse(
        'already-offered',
        `Container ${id} was offered at a feed`,
        'What is left in it is not poured into another.',
      );
    if (isFrozen(container))
      throw refuse('not-thawed', `Container ${id} is frozen`, 'Enter when it was thawed first.');
    const leftMl = container.volumeMl - ml;
    if (leftMl < -DROP_ML)
      throw refuse(
        'too-much',
        `${ml} mL cannot be poured from container ${id}: it holds ${tidy(container.volumeMl)} mL`,
      );
    const isEmpty = leftMl < DROP_ML;
    volumeMl += isEmpty ? container.volumeMl : ml;
    sources.push(container);
    next = change(
      next,
      { ...entry, id },
      {
        ...found,
        container: { ...container, volumeMl: isEmpty ? 0 : leftMl },
        gone: isEmpty ? 'poured' : null,
      },
    );
  }
  const first = (values: (number | null)[]): number | null => {
    const dates = values.filter((value) => value !== null);
    return dates.length === 0 ? null : Math.min(...dates);
  };
  const kinds = new Set(sources.map(({ kind }) => kind));
  const warmedAtMs = first(sources.map((one) => one.warmedAtMs));
  const place = warmedAtMs !== null || sources.some((one) => one.place === 'room') ? 'room' : 'fridge';
  // Pooled milk has the earliest dates of all its parts, and the history of each part.
  const container: Container = {
    id: into,
    kind: kinds.size === 1 ? sources[0]!.kind : 'mixed',
    volumeMl,
    expressedAtMs: Math.min(...sources.map(({ expressedAtMs }) => expressedAtMs)),
    place,
    thawedAtMs: first(sources.map((one) => one.thawedAtMs)),
    warmedAtMs,
    heldBack: sources.some(({ heldBack }) => heldBack),
    strands: pooled(sources, { sinceMs: atMs, place, ...(warmedAtMs !== null && { warmed: true }) }),
  };
  next = change(next, { ...entry, id: into }, { container, offered: null, gone: null, latestAtMs: atMs });
  return handedOn(next, from, into);
}

export function offered(ledger: Ledger, entry: Extract<LedgerEntry, { what: 'offered' }>): Ledger {
  const { id, feed, atMs } = entry;
  const found = present(ledger, id, atMs);
  if (isFrozen(found.container))
    throw refuse('not-thawed', `Container ${id} is frozen`, 'Enter when it was thawed first.');
  const known = own(ledger.feeds, feed) ?? { feedStartedAtMs: atMs, feedEndedAtMs: null };
  if (atMs < known.feedStartedAtMs)
    throw refuse('date-order', `Feed ${feed} had not begun`, 'Correct one of the times.');
  const next = { ...ledger, feeds: { ...ledger.feeds, [feed]: known } };
  return change(next, entry, { ...found, offered: found.offered ?? { ...known, feed } });
}

export function fed(ledger: Ledger, entry: Extract<LedgerEntry, { what: 'fed' }>): Ledger {
  const { feed, taken, atMs } = entry;
  const known = own(ledger.feeds, feed);
  if (!known)
    throw refuse(
      'feed-unknown',
      `Nothing was offered at feed ${feed}`,
      'Enter the bottle that was offered first.',
    );
  if (atMs < known.feedStartedAtMs)
    throw refuse('date-order', `Feed ${feed} had not begun`, 'Correct one of the times.');
  // A top-up of the same feed does not restart the clock: the first end of the feed counts.
  const ended: Offered = { ...known, feedEndedAtMs: known.feedEndedAtMs ?? atMs };
  let next: Ledger = { ...ledger, feeds: { ...ledger.feeds, [feed]: ended } };
  for (const [id, found] of Object.entries(ledger.containers)) {
    if (found.offered?.feed === feed)
      next = { ...next, containers: { ...next.containers, [id]: { ...found, offered: { ...ended, feed } } } };
  }
  for (const { id, ml } of taken) {
    const found = present(next, id, atMs);
    if (!found.offered) throw refuse('not-offered', `Container ${id} was not offered at feed ${feed}`);
    const { volumeMl } = found.container;
    if (ml > volumeMl + DROP_ML)
      throw refuse('too-much', `${ml} mL cannot have left container ${id}: it held ${tidy(volumeMl)} mL`);
    const isEmpty = volumeMl - ml < DROP_ML;
    const leftMl = isEmpty ? 0 : volumeMl - ml;
    next = change(
      { ...next, totals: { ...next.totals, fedMl: next.totals.fedMl + volumeMl - leftMl } },
      { ...entry, id },
      { ...found, container: { ...found.container, volumeMl: leftMl }, gone: isEmpty ? 'fed' : null },
    );
  }
  return next;
}

/** Routes of the pages for packing and for the milk list. Whoever starts the server brings the desk that answers. */
import type { FastifyInstance } from 'fastify';
import type { Standing } from '../planning/ledger.ts';
import type { BookLine, MilkBook, Proposal } from '../planning/milk-book.ts';
import type { PackingAnswer } from '../planning/packing.ts';
import type { PackingSettings } from '../planning/packing-settings.ts';
import { answering, type PaperEnding, sendPaper } from './answering.ts';
import type { NamedBaby } from './reviewing.ts';

/** What the page for packing opens with. */
export interface PackingStart {
  /** Babies that are known, the latest fed first; a name or a birth date may be missing. */
  babies: NamedBaby[];
  settings: PackingSettings;
  /** Today and tomorrow where the machine stands, YYYY-MM-DD. */
  today: string;
  tomorrow: string;
  /** Milk that can be planned with, mL: not held back, its time not passed; of all containers their number. Null where none was ever entered. */
  onHand: { fridgeMl: number; freezerMl: number; containers: number } | null;
}

export interface ListedContainer extends Standing {
  /** It was offered at a feed; what is left in it belongs to that feed. */
  offered: boolean;
}

export interface MilkAnswer {
  nowMs: number;
  /** In order of use. */
  containers: ListedContainer[];
  /** Latest entries, newest first. */
  lines: BookLine[];
  leftOut: MilkBook['leftOut'];
  totals: { gotMl: number; fedMl: number; discardedMl: number };
  proposals: Proposal[];
  /** A label that is still free. */
  nextLabel: string;
}

export type SheetName = 'feeding-plan' | 'day-sheet';
export type Query = Readonly<Record<string, unknown>>;

/** All throw PlainErrors that the page shows; FieldErrors stand at the field. */
export interface PackingDesk {
  start(): PackingStart;
  /** @param ask a PackingAsk, with `baby` beside it: its id, its name where it has none, or null */
  plan(ask: unknown): PackingAnswer;
  keepSettings(settings: unknown): PackingSettings;
  milk(): MilkAnswer;
  /** @param data `{ entries: [...] }`, `{ confirm: { feed, container } }`, or `{ packed: ask }` once the bag is filled */
  enterMilk(data: unknown): MilkAnswer;
  sheet(name: SheetName, ending: PaperEnding, query: Query): Promise<string | Uint8Array>;
}

export function addPackingRoutes(app: FastifyInstance, desk: PackingDesk): void {
  app.get('/packing', (_request, reply) => answering(reply, () => desk.start()));
  app.post('/packing/plan', ({ body }, reply) => answering(reply, () => desk.plan(body)));
  app.post('/packing/settings', ({ body }, reply) => answering(reply, () => desk.keepSettings(body)));
  app.get('/milk', (_request, reply) => answering(reply, () => desk.milk()));
  app.post('/milk', ({ body }, reply) => answering(reply, () => desk.enterMilk(body)));
  for (const name of ['feeding-plan', 'day-sheet'] as const) {
    for (const ending of ['pdf', 'html'] as const) {
      app.get<{ Querystring: Query }>(`/packing/${name}.${ending}`, ({ query }, reply) =>
        answering(reply, async () => {
          return sendPaper(reply, 'inline', name, ending, await desk.sheet(name, ending, query));
        }),
      );
    }
  }
}

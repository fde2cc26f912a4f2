/** Routes of the pages for packing and for the milk list. Whoever starts the server brings the desk that answers. */
import type { FastifyInstance, FastifyReply } from 'fastify';
import { FieldError, PlainError } from '../errors.ts';
import type { Container } from '../planning/milk.ts';
import type { BookLine, MilkBook, Proposal } from '../planning/milk-book.ts';
import type { MilkClock } from '../planning/milk-times.ts';
import type { PackingAnswer } from '../planning/packing.ts';
import type { PackingSettings } from '../planning/packing-settings.ts';
import type { ErrorAnswer } from './answers.ts';

/** What the page for packing opens with. */
export interface PackingStart {
  /** Babies of kept feeds, the latest first; a name or a birth date may be missing. */
  babies: { name: string | null; birthDay: string | null }[];
  settings: PackingSettings;
  /** Today and tomorrow where the machine stands, YYYY-MM-DD. */
  today: string;
  tomorrow: string;
  /** Milk that can be planned with, mL; null where none was ever entered. */
  onHand: { fridgeMl: number; freezerMl: number; containers: number } | null;
}

export interface ListedContainer {
  container: Container;
  /** All clocks that have started, the place's own rules first. */
  clocks: MilkClock[];
  passed: MilkClock[];
  deciding: MilkClock | null;
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
export type SheetEnding = 'pdf' | 'html';
export type Query = Readonly<Record<string, unknown>>;

/** All throw PlainErrors that the page shows; FieldErrors stand at the field. */
export interface PackingDesk {
  start(): PackingStart;
  /** @param ask a PackingAsk, with `baby` beside it: the name, or null */
  plan(ask: unknown): PackingAnswer;
  keepSettings(settings: unknown): PackingSettings;
  milk(): MilkAnswer;
  /** @param data `{ entries: [...] }`, `{ confirm: { feed, container } }`, or `{ packed: ask }` once the bag is filled */
  enterMilk(data: unknown): MilkAnswer;
  sheet(name: SheetName, ending: SheetEnding, query: Query): Promise<string | Uint8Array>;
}

const TYPES: Record<SheetEnding, string> = { pdf: 'application/pdf', html: 'text/html; charset=utf-8' };
/** A sheet carries its style in itself and runs nothing. A sandbox would keep browsers from showing a PDF. */
const POLICIES: Record<SheetEnding, string> = {
  pdf: "default-src 'none'; style-src 'unsafe-inline'",
  html: "default-src 'none'; style-src 'unsafe-inline'; sandbox allow-modals",
};

export function addPackingRoutes(app: FastifyInstance, desk: PackingDesk): void {
  const answering = async (reply: FastifyReply, act: () => unknown): Promise<unknown> => {
    reply.header('cache-control', 'no-store');
    try {
      return await act();
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      return reply.code(422).send(refusalOf(error));
    }
  };
  app.get('/packing', (_request, reply) => answering(reply, () => desk.start()));
  app.post('/packing/plan', ({ body }, reply) => answering(reply, () => desk.plan(body)));
  app.post('/packing/settings', ({ body }, reply) => answering(reply, () => desk.keepSettings(body)));
  app.get('/milk', (_request, reply) => answering(reply, () => desk.milk()));
  app.post('/milk', ({ body }, reply) => answering(reply, () => desk.enterMilk(body)));
  for (const name of ['feeding-plan', 'day-sheet'] as const) {
    for (const ending of ['pdf', 'html'] as const) {
      app.get<{ Querystring: Query }>(`/packing/${name}.${ending}`, ({ query }, reply) =>
        answering(reply, async () => {
          const sheet = await desk.sheet(name, ending, query);
          return reply
            .type(TYPES[ending])
            .header('content-security-policy', POLICIES[ending])
            .header('content-disposition', `inline; filename="${name}.${ending}"`)
            .send(typeof sheet === 'string' ? sheet : Buffer.from(sheet));
        }),
      );
    }
  }
}

const refusalOf = (error: PlainError): ErrorAnswer => ({
  error: {
    code: error.code,
    message: error.message,
    remedy: error.remedy,
    ...(error instanceof FieldError && { field: error.field }),
  },
});

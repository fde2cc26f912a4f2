/** Routes of what happened: feeds found and told, days, weeks, files to hand on, corrections and feeds written in by hand. */
import type { FastifyInstance, FastifyReply } from 'fastify';
import type { BabyRef } from '../base/babies.ts';
import type { FeedSetup } from '../feed/feed.ts';
import type { ListedFeed } from '../feed/kept.ts';
import type { ToldDay, ToldWeek } from '../review/day-telling.ts';
import type { ToldFeed } from '../review/telling.ts';
import type { FeedValues } from '../review/values.ts';
import { answering as answer, type PaperEnding, sendPaper } from './answering.ts';

export type Query = Readonly<Record<string, unknown>>;

/** A baby as a page lists it: a day of birth tells namesakes apart. */
export type NamedBaby = BabyRef & { birthDay: string | null };

/** A page of the list, and what can be asked for. */
export interface FoundFeeds {
  feeds: ListedFeed[];
  /** Hand this in as `before` for the next page; null on the last. */
  next: number | null;
  /** Babies, and names that stand beside kept feeds, the latest first. */
  names: { babies: NamedBaby[]; bottles: string[]; teats: string[] };
}

/** Feeds of which somebody has to say whose they are; until then they are in no list of a baby. */
export interface OpenFeeds {
  /** Hand it in as `feeds` with the answer. */
  key: string;
  name: string;
  count: number;
  /** They carry a number of another computer; else they say only the name. */
  isFromElsewhere: boolean;
  /** Whose they may be. */
  choices: NamedBaby[];
}

export interface FeedTelling {
  told: ToldFeed;
  /** As it counts now: with what was corrected. */
  feed: {
    id: string;
    atMs: number;
    setup: FeedSetup;
    simulated: boolean;
    isEnded: boolean;
    isRefined: boolean;
  };
  /** What was put beside it so far, for the form: amounts in mL. */
  beside: { offeredMl: number | null; leftMl: number | null; note: string | null };
}

/** The way through days. `after` is null where the next would lie in the future. */
export interface DayWays {
  before: string;
  after: string | null;
  today: string;
  /** Of whom, and of whom else there are feeds. */
  baby: NamedBaby;
  babies: NamedBaby[];
}
export type DayAnswer = DayWays & { told: ToldDay; hours: number };
export type WeekAnswer = DayWays & { told: ToldWeek };

/** Whoever starts the server brings it. All throw PlainErrors that the page shows; FieldErrors stand at the field. */
export interface ReviewDesk {
  find(query: Query): FoundFeeds;
  told(id: string, query: Query): FeedTelling;
  values(id: string): FeedValues;
  file(id: string, ending: PaperEnding, query: Query): Promise<string | Uint8Array>;
  /** @param body `{ correction, by }` */
  correct(id: string, body: unknown, query: Query): FeedTelling;
  compare(query: Query): string;
  day(query: Query): DayAnswer;
  week(query: Query): WeekAnswer;
  dayFile(query: Query): string;
  /** @param body the entry, with `day` and `clock` on the family's wall in place of an instant */
  writeFeed(body: unknown): { id: string; day: string };
  /** Takes a hand-written feed back; it stays in the book as taken back. */
  takeBackFeed(id: string): { id: string };
  whose(): OpenFeeds[];
  /** @param body `{ feeds, baby }`: the key, and the id of a baby or null for another one @returns what is open then */
  sayWhose(body: unknown): OpenFeeds[];
}

type Asked = { Querystring: Query };
type AskedById = Asked & { Params: { id: string } };

export function addReviewRoutes(app: FastifyInstance, desk: ReviewDesk): void {
  const answering = (reply: FastifyReply, act: () => unknown): Promise<unknown> =>
    answer(reply, act, ({ code }) => (NOT_THERE.has(code) ? 404 : 422));

  app.get<Asked>('/found', ({ query }, reply) => answering(reply, () => desk.find(query)));
  app.get<AskedById>('/feeds/:id/told', ({ params, query }, reply) =>
    answering(reply, () => desk.told(params.id, query)),
  );
  app.get<AskedById>('/feeds/:id/values', ({ params }, reply) =>
    answering(reply, () => desk.values(params.id)),
  );
  app.post<AskedById>('/feeds/:id/corrections', ({ params, query, body }, reply) =>
    answering(reply, () => desk.correct(params.id, body, query)),
  );
  for (const ending of ['pdf', 'html'] as const) {
    app.get<AskedById>(`/feeds/:id/file.${ending}`, ({ params, query }, reply) =>
      answering(reply, async () => {
        const file = await desk.file(params.id, ending, query);
        return sendPaper(reply, 'attachment', `ebbline-${safeName(params.id)}`, ending, file);
      }),
    );
  }
  app.get<Asked>('/compare.svg', ({ query }, reply) =>
    answering(reply, () => {
      const svg = desk.compare(query);
      return reply
        .type('image/svg+xml; charset=utf-8')
        .header('content-security-policy', "default-src 'none'; style-src 'unsafe-inline'; sandbox")
        .send(svg);
    }),
  );
  app.get<Asked>('/day', ({ query }, reply) => answering(reply, () => desk.day(query)));
  app.get<Asked>('/week', ({ query }, reply) => answering(reply, () => desk.week(query)));
  app.get<Asked>('/day/file.html', ({ query }, reply) =>
    answering(reply, () =>
      sendPaper(
        reply,
        'attachment',
        `ebbline-${safeName(String(query.day ?? 'day'))}`,
        'html',
        desk.dayFile(query),
      ),
    ),
  );
  app.post('/hand-feeds', ({ body }, reply) => answering(reply, () => desk.writeFeed(body)));
  app.get('/whose', (_request, reply) => answering(reply, () => desk.whose()));
  app.post('/whose', ({ body }, reply) => answering(reply, () => desk.sayWhose(body)));
  app.post<AskedById>('/hand-feeds/:id/take-back', ({ params }, reply) =>
    answering(reply, () => desk.takeBackFeed(params.id)),
  );
}

const NOT_THERE = new Set(['feed-unknown', 'store-no-feed']);

/** For a file name in a header: whatever else was asked for is left out. */
const safeName = (name: string): string => name.replaceAll(/[^\w-]/g, '').slice(0, 60);

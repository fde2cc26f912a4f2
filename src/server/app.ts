import { resolve } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance, FastifyReply } from 'fastify';
import type { BabyService } from '../app/babies/baby-answers.ts';
import type { KeptService } from '../app/kept/kept-answers.ts';
import type { PackingService } from '../app/packing/packing-answers.ts';
import type { ServedReview } from '../app/review/review-answers.ts';
import type { StudyService } from '../app/study/page/study-answers.ts';
import { addAloneFeeds, type GiveAloneFeeds } from './alone-feeds.ts';
import type { FeedListAnswer } from './answers.ts';
import { addBabyRoutes } from './babies.ts';
import { addErrorAnswers, bareApp, errorAnswer } from './bare-app.ts';
import { checkCommand } from './commands.ts';
import { refusal, SAFETY_HEADERS } from './gate.ts';
import { graphOptions } from './graph-query.ts';
import { addKeptRoutes } from './kept.ts';
import { LiveStream } from './live-stream.ts';
import type { DrawGraph, FeedReader, LiveSource, PaintPng } from './needs.ts';
import { addPackingRoutes } from './packing.ts';
import {
  addPracticeRoutes,
  addTechniqueRoute,
  type DescribeTechnique,
  type PracticePair,
} from './practice-routes.ts';
import { addReviewRoutes } from './reviewing.ts';
import type { ShareDoor } from './share-door.ts';
import { addSharingRoutes, comesFromNetwork, guardSharing } from './sharing-routes.ts';
import { addStudyRoutes } from './studies.ts';
import { addStudyChoices, type GiveStudyChoices } from './study-choices.ts';

/** Enough to collect names of babies, bottles and caregivers; the whole list is read page by page. */
const LATEST_FEEDS = 300;

export interface AppOptions {
  live: LiveSource;
  feeds: FeedReader;
  graph: DrawGraph;
  /** Without it there is no `graph.png`. */
  png?: PaintPng;
  /** Without it stored data are not listed, exported or deleted. */
  kept?: KeptService;
  /** Without it there is no packing, no milk list and nothing to print. */
  packing?: PackingService;
  /** Feeds that sleeves stored without a computer; without it there are none. */
  aloneFeeds?: GiveAloneFeeds;
  /** Without it no babies can be entered. */
  babies?: BabyService;
  /** Without it feeds are only listed and drawn. */
  review?: ServedReview;
  /** Without it there are no studies on the page. */
  studies?: StudyService;
  /** Without it no feed can be said to be a session of a study. */
  studyChoices?: GiveStudyChoices;
  /** Folder of the built page, `dist/web`. */
  webFolder: string;
  /** Simulated feeds for teaching; without it there are none. */
  practice?: PracticePair;
  /** Describes after a practice run how the feed was given. */
  technique?: DescribeTechnique;
  /** Opens the page to admitted devices of the home network; without it only this machine has access. */
  door?: ShareDoor;
  /** Today as YYYY-MM-DD, for checking birth dates; the machine's own date by default. */
  todayIso?: () => string;
  /** Called with the number of open pages that show the live feed, whenever it changes. */
  onPages?: (count: number) => void;
  /** Called for faults that are not caused by input: errors of the program, a source that failed. */
  onError?: (error: unknown) => void;
}

/**
 * Builds the server without listening.
 * @param port  called at each request, since the real port is known only once the server listens
 * @throws PlainError when the built page is not in `webFolder`
 */
export function buildApp(options: AppOptions, port: () => number): FastifyInstance {
  const app = bareApp(options.webFolder);
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(SAFETY_HEADERS);
    const { door } = options;
    const fromNetwork = door && comesFromNetwork(request.raw.socket.localAddress, door);
    const path = request.url.split('?')[0]!;
    const refused = refusal(request.headers, port(), fromNetwork ? door.network.address : null, path);
    if (refused) return reply.code(403).header('cache-control', 'no-store').send({ error: refused });
  });
  if (options.door) guardSharing(app, options.door);
  addErrorAnswers(app, options);
  addSharingRoutes(app, options.door ?? null);
  if (options.practice) addPracticeRoutes(app, options.practice);
  if (options.technique) addTechniqueRoute(app, options.feeds, options.technique);
  addLiveRoutes(app, options);
  addFeedRoutes(app, options);
  if (options.babies) addBabyRoutes(app, options.babies);
  // Read before each feed; without studies it gives an empty list.
  addStudyChoices(app, options.studyChoices ?? (() => []));
  if (options.kept) addKeptRoutes(app, options.kept);
  if (options.review) addReviewRoutes(app, options.review);
  if (options.packing) addPackingRoutes(app, options.packing);
  const { studies } = options;
  addStudyRoutes(app, studies ? () => studies : null);
  app.register(fastifyStatic, { root: resolve(options.webFolder), cacheControl: false, index: 'index.html' });
  return app;
}

function addLiveRoutes(app: FastifyInstance, options: AppOptions): void {
  const { live, onError, onPages, todayIso = localToday } = options;
  const stream = new LiveStream(live.view$, { ...(onError && { onError }), ...(onPages && { onPages }) });
  // Before waiting for connections, since open streams would keep the server from closing.
  app.addHook('preClose', async () => stream.close());

  app.get('/live', (_request, reply) => {
    reply.hijack();
    reply.raw.writeHead(200, {
      ...SAFETY_HEADERS,
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
    });
    stream.join(reply.raw);
  });

  app.post('/live/commands', async (request, reply) => {
    reply.header('cache-control', 'no-store');
    const checked = checkCommand(request.body, todayIso());
    if ('error' in checked) return reply.code(400).send(checked);
    live.command(checked.command);
    return reply.code(204).send();
  });
}

function addFeedRoutes(app: FastifyInstance, { feeds, graph, png, aloneFeeds }: AppOptions): void {
  type ById = { Params: { id: string }; Querystring: Record<string, unknown> };
  const withFeed = (id: string, reply: FastifyReply) => {
    reply.header('cache-control', 'no-store');
    const feed = feeds.get(id);
    if (!feed) {
      reply
        .code(404)
        .send(
          errorAnswer('no-such-feed', 'There is no kept feed of that name.', 'Look in the list of feeds.'),
        );
    }
    return feed;
  };

  app.get('/feeds', async (_request, reply): Promise<FeedListAnswer> => {
    reply.header('cache-control', 'no-store');
    return { feeds: feeds.list({ limit: LATEST_FEEDS }) };
  });
  addAloneFeeds(app, aloneFeeds);
  app.get<ById>('/feeds/:id/graph.svg', async (request, reply) => {
    const feed = withFeed(request.params.id, reply);
    if (!feed) return reply;
    return reply
      .type('image/svg+xml; charset=utf-8')
      .header('content-security-policy', "default-src 'none'; style-src 'unsafe-inline'; sandbox")
      .send(await graph(feed, graphOptions(request.query)));
  });
  if (png) {
    app.get<ById>('/feeds/:id/graph.png', async (request, reply) => {
      const feed = withFeed(request.params.id, reply);
      if (!feed) return reply;
      const picture = await png(feed, graphOptions(request.query));
      return reply.type('image/png').send(Buffer.from(picture));
    });
  }
}

function localToday(): string {
  const now = new Date();
  const two = (part: number) => String(part).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** Interfaces that the page's server needs. Types only; the command that starts it passes the implementations. */
import type { Observable } from 'rxjs';
import type { GraphOptions } from '../app/review/graph-options.ts';
import type { LiveCommand, LiveView } from '../feed/live/live-view.ts';
import type { FeedSummary, KeptFeed } from '../feed/record/feed.ts';

/** The live feed. `view$` is hot and emits at least twice a second while it runs, since pages treat silence as "no guidance". */
export interface LiveSource {
  readonly view$: Observable<LiveView>;
  /** @throws PlainError when the command cannot be done now */
  command(command: LiveCommand): void;
}

/** A feed in the list, with its number of cues where the store knows it. */
export type ListedFeed = FeedSummary & { cueCount?: number };

/** The kept feeds, newest first. */
export interface FeedReader {
  list(choice: { limit: number }): ListedFeed[];
  get(id: string): KeptFeed | null;
}

/** Draws one kept feed as an SVG document. */
export type DrawGraph = (feed: KeptFeed, options: GraphOptions) => string | Promise<string>;

/** The same as a PNG. */
export type PaintPng = (feed: KeptFeed, options: GraphOptions) => Uint8Array | Promise<Uint8Array>;

/** The page's routes without a port, for tests of routes. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { afterAll } from 'vitest';
import { type AppOptions, buildApp } from '../../src/server/app.ts';
import { FakeLive } from './fake-live.ts';
import { feedReader, plainGraph } from './kept-feeds.ts';

const PORT = 4620;
export const HOST = { host: `127.0.0.1:${PORT}` };

/** @returns a folder with a page of one word; removed after the tests of the file that calls it */
export function pageFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-web-'));
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>page</title>');
  afterAll(() => rmSync(folder, { recursive: true }));
  return folder;
}

/** Without feeds, and with a live feed that says what a test sets, unless `part` says otherwise. */
export const pageApp = (part: Pick<AppOptions, 'webFolder'> & Partial<AppOptions>): FastifyInstance =>
  buildApp({ live: new FakeLive(), feeds: feedReader(), graph: plainGraph, ...part }, () => PORT);

/** Checks a data folder without changing it: the database itself, captures without feeds and feeds without captures, rights. */
import * as fs from 'node:fs';
import { isAbsolute, join } from 'node:path';
import { readCapture } from '../../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../base/errors.ts';
import { DATABASE_FILE } from '../data-folder.ts';
import { quickCheck } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { foreignParts } from '../database/schema.ts';
import { openToOthers } from '../private.ts';
import { rowsOf } from '../ward/rows.ts';

/** A finding. `feedId`: if it concerns one feed. */
export interface Finding {
  kind:
    | 'database-damaged'
    | 'database-foreign'
    | 'capture-without-feed'
    | 'feed-without-capture'
    | 'capture-away'
    | 'capture-damaged'
    | 'capture-unpacked'
    | 'open-to-others';
  what: string;
  feedId?: string;
}

export interface Examined {
  feeds: number;
  captures: number;
  findings: Finding[];
}

const CAPTURE = /^(.+)\.cap(\.cols|\.gz)?$/;

/**
 * @param thorough  also read each capture to its end, some ms each
 * @throws PlainError if the database cannot be read at all
 */
export function examine(folder: string, database: FeedDatabase, thorough: boolean): Examined {
  const findings: Finding[] = [];
  const verdict = quickCheck(database);
  if (verdict !== 'ok') {
    findings.push({
      kind: 'database-damaged',
      what: `The database ${join(folder, DATABASE_FILE)} is damaged (${verdict}).`,
    });
  }
  for (const part of foreignParts(database)) {
    findings.push({
      kind: 'database-foreign',
      what: `The database holds a part that Ebbline does not make: ${part}.`,
    });
  }
  const names = capturesIn(folder);
  const pathOf = (name: string): string => join(folder, 'captures', name);
  const {
    feeds,
    captures,
    findings: ofCaptures,
  } = examineCaptures(database, names, thorough ? pathOf : null);
  findings.push(...ofCaptures);
  for (const name of openToOthers(folder)) {
    findings.push({
      kind: 'open-to-others',
      what: `Others on this computer may read ${join(folder, name)}.`,
    });
  }
  return { feeds, captures, findings };
}

/**
 * Feeds without captures and captures without feeds.
 * @param names  of the captures that are there, as they are called in a data folder
 * @param pathOf  a file with the bytes of one; null: they are not read
 */
export function examineCaptures(
  database: FeedDatabase,
  names: readonly string[],
  pathOf: ((name: string) => string) | null,
): Examined {
  const feeds = rowsOf<KeptAs>(database, 'SELECT id, state, capture_file FROM feed', []);
  const findings = [...orphans(feeds, names), ...(pathOf ? damagedAmong(names, pathOf) : [])];
  return { feeds: feeds.length, captures: names.length, findings };
}

interface KeptAs {
  id: string;
  state: string;
  capture_file: string;
}

/** @returns names of the captures in the folder */
export function capturesIn(folder: string): string[] {
  const captures = join(folder, 'captures');
  return fs.existsSync(captures) ? fs.readdirSync(captures).filter((name) => CAPTURE.test(name)) : [];
}

export const feedOf = (captureName: string): string => CAPTURE.exec(captureName)![1]!;

function orphans(feeds: readonly KeptAs[], captures: readonly string[]): Finding[] {
  const known = new Set(feeds.map(({ id }) => id));
  const there = new Set(captures.map(feedOf));
  const withoutFeed = captures
    .filter((name) => !known.has(feedOf(name)))
    .map((name): Finding => {
      const what = `The capture ${name} belongs to no feed that is kept.`;
      return { kind: 'capture-without-feed', what, feedId: feedOf(name) };
    });
  const withoutCapture = feeds.flatMap(({ id, capture_file }): Finding[] => {
    // It was removed on purpose, or there never was one.
    if (capture_file === '' || there.has(id)) return [];
    if (!isAbsolute(capture_file)) {
      return [{ kind: 'feed-without-capture', what: `The capture of feed ${id} is missing.`, feedId: id }];
    }
    if (fs.existsSync(capture_file)) return [];
    return [
      {
        kind: 'capture-away',
        what: `The capture of feed ${id} was put away and is not there now: ${capture_file}.`,
        feedId: id,
      },
    ];
  });
  const unpacked = feeds
    .filter(({ id, state }) => state !== 'open' && captures.includes(`${id}.cap`))
    .map(
      ({ id }): Finding => ({
        kind: 'capture-unpacked',
        what: `The capture of feed ${id} is not packed yet.`,
        feedId: id,
      }),
    );
  return [...withoutFeed, ...withoutCapture, ...unpacked];
}

function damagedAmong(captures: readonly string[], pathOf: (name: string) => string): Finding[] {
  return captures.flatMap((name): Finding[] => {
    try {
      const { warnings } = readCapture(pathOf(name));
      return warnings.map((what) => ({ kind: 'capture-damaged', what, feedId: feedOf(name) }));
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
      // The feed was begun and interrupted before any bytes came.
      if (error.code === 'capture-empty') return [];
      return [{ kind: 'capture-damaged', what: error.message, feedId: feedOf(name) }];
    }
  });
}

/** Ebbline's topics on a broker: by site, room and sleeve. Pure. */
import { PlainError } from '../../../src/base/errors.ts';

export interface Place {
  site: string;
  room: string;
}

/** Part of the topics, so that a later format can exist beside this one. */
const VERSION = 1;

export interface SleeveTopics {
  /** The sleeve's bytes, from the relay. */
  fromSleeve: string;
  /** Messages of the guide: light, sound, heartbeats, and which bytes it wants. */
  toSleeve: string;
  /** Retained: which sleeve it is, and whether its relay is connected. */
  relay: string;
  /** From the relay: nobody guides the sleeve; with the last guide's checkpoint. */
  wanted: string;
  /** From the guide: a checkpoint for the relay to store, which the next guide continues from. */
  checkpoint: string;
  /** Retained, from the guide: what it shows now, for the board of the room. The content is defined by the app. */
  state: string;
  /** Retained, from a board, while it applies: the bottle in this sleeve must not be given. */
  stop: string;
}

export function sleeveTopics({ site, room }: Place, sleeveNumber: number | '+'): SleeveTopics {
  const root = `ebbline/${VERSION}/${site}/${room}/${sleeveNumber}`;
  return {
    fromSleeve: `${root}/from`,
    toSleeve: `${root}/to`,
    relay: `${root}/relay`,
    wanted: `${root}/wanted`,
    checkpoint: `${root}/note`,
    state: `${root}/state`,
    stop: `${root}/stop`,
  };
}

/** Shared by all workers: each request goes to one of them (MQTT version 5.0, section 4.8.2). @param site  null: all sites; likewise `room` */
export const wantedTopic = (site: string | null, room: string | null): string =>
  `$share/workers/ebbline/${VERSION}/${site ?? '+'}/${room ?? '+'}/+/wanted`;

/** @param site  null: all sites; likewise `room` */
export const stopTopic = (site: string | null, room: string | null): string =>
  `ebbline/${VERSION}/${site ?? '+'}/${room ?? '+'}/+/stop`;

export const isStopTopic = (topic: string): boolean => topic.endsWith('/stop');

/** @returns the place that one of our topics names; null for any other topic */
export function placeIn(topic: string): Place | null {
  const [root, version, site, room] = topic.split('/');
  return root === 'ebbline' && version === String(VERSION) && site && room ? { site, room } : null;
}

/** @returns number of the sleeve in a topic; null if it names none */
export function sleeveNumberIn(topic: string): number | null {
  const number = Number(topic.split('/')[4]);
  return Number.isInteger(number) ? number : null;
}

/** Excludes wildcards and separators of topics, and paths that leave a folder. */
const NAME = /^[\p{L}\p{N}][\p{L}\p{N} ._-]{0,39}$/u;

/** @throws PlainError broker-place: a name that is not allowed in a topic */
export function checkedPlace({
  site,
  room,
}: {
  site?: string | undefined;
  room?: string | undefined;
}): Place {
  for (const [option, name] of Object.entries({ site, room })) {
    if (name === undefined)
      throw new PlainError(
        'broker-place',
        `With --broker, --${option} is needed too.`,
        'Name the site and the room: --site NAME --room NAME.',
      );
    if (!NAME.test(name))
      throw new PlainError(
        'broker-place',
        `"${name}" cannot be the name of a ${option}.`,
        'A name begins with a letter or a digit and has up to 40 letters, digits, spaces, dots, hyphens or underscores.',
      );
  }
  return { site: site as string, room: room as string };
}

/** Our own topics on a broker: by site, room and sleeve. Pure. */
import { PlainError } from '../../../src/base/errors.ts';

export interface Place {
  site: string;
  room: string;
}

/** Part of the topics, so that a later format can stand beside this one. */
const VERSION = 1;

export interface SleeveTopics {
  /** The sleeve's bytes, from the relay. */
  fromSleeve: string;
  /** Words of whoever guides: light, sound, heartbeats, and from where the bytes are wanted. */
  toSleeve: string;
  /** Retained: which sleeve it is, and whether its relay is there. */
  relay: string;
  /** From the relay: nobody guides it; with the checkpoint of whoever did. */
  wanted: string;
  /** From whoever guides it, for the relay to keep beside the bytes: what the next one needs to go on. */
  checkpoint: string;
  /** Retained: what whoever guides it shows now, for a board of the room. Its content is the app's. */
  state: string;
  /** From a board: the bottle in it must not be given. Retained for as long as that is said. */
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

/** All workers share it: each question goes to one of them (MQTT version 5.0, section 4.8.2). @param site  null: of all, as is `room` */
export const wantedTopic = (site: string | null, room: string | null): string =>
  `$share/workers/ebbline/${VERSION}/${site ?? '+'}/${room ?? '+'}/+/wanted`;

/** @param site  null: of all, as is `room` */
export const stopTopic = (site: string | null, room: string | null): string =>
  `ebbline/${VERSION}/${site ?? '+'}/${room ?? '+'}/+/stop`;

export const isStopTopic = (topic: string): boolean => topic.endsWith('/stop');

/** @returns where a topic of ours belongs, null for any other */
export function placeIn(topic: string): Place | null {
  const [root, version, site, room] = topic.split('/');
  return root === 'ebbline' && version === String(VERSION) && site && room ? { site, room } : null;
}

/** @returns the number of the sleeve that a topic is about, null where it is about none */
export function sleeveNumberIn(topic: string): number | null {
  const number = Number(topic.split('/')[4]);
  return Number.isInteger(number) ? number : null;
}

/** Wildcards and levels of topics must not come in by a name; neither must ways out of a folder. */
const NAME = /^[\p{L}\p{N}][\p{L}\p{N} ._-]{0,39}$/u;

/** @throws PlainError broker-place: a name that cannot stand in a topic */
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

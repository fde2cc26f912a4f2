/** The JSON that the server answers with; the page shares these types. Types only. */
import type { KeptAloneFeed } from '../app/sleeve/fetched-alone.ts';
import type { ListedFeed } from './needs.ts';
import type { Right } from './rights.ts';

/** Every refusal has this form. `field` names the part of the body that is wrong, as in `setup.portionMl`. */
export interface ErrorAnswer {
  error: { code: string; message: string; remedy: string; field?: string };
}

/** Feeds that a sleeve guided alone, newest first. */
export interface AloneFeedsAnswer {
  feeds: KeptAloneFeed[];
  /** The family's time zone, IANA name. */
  zone: string;
}

export interface FeedListAnswer {
  feeds: ListedFeed[];
}

/** The rights of whoever asks. */
export interface RightAnswer {
  right: Right | 'all';
}

/** Whether the page is shared on the home network, and with how many devices. */
export type SharingAnswer =
  | { on: false }
  | {
      on: true;
      /** The address that a device opens once, with its code; null when there is none. */
      invitation: { address: string; leftSec: number; right: Right } | null;
      devices: { number: number; sinceSec: number; right: Right }[];
    };

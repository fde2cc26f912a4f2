/**
 * Decides which relay passes a sleeve on. The relay that has it keeps it; if two ask at once, the one with the lower stream id wins. A retained message
 * of a relay that is gone blocks nobody: only messages sent now count. Pure.
 */
export interface RelayWord {
  /** Id of its log: 16 hexadecimal digits. Unchanged by a restart. */
  stream: string;
  /** Id of its process. */
  run: string;
  says: 'asks' | 'here' | 'gone';
  /** It has had the sleeve for less than `NEW_MS`. */
  isNew?: boolean;
  sleeveNumber: number;
  contractVersion: number;
  firmwareVersion: string;
  /** What is wrong with the sleeve, as a sentence. */
  trouble: string | null;
}

/** `asking` until nobody has objected for a while; `held`; `given-way`: left to another relay. */
export type Claim = 'asking' | 'held' | 'given-way';

/** How long the holding relay may take to object. */
export const ASK_MS = 1000;
/** A relay that gave way asks again after this time, in case the other is gone. */
export const ASK_AGAIN_MS = 5000;
/** A newcomer on a slow network may have taken a sleeve before the one that has it could object: for so long it gives way again. */
export const NEW_MS = 10_000;

export interface ClaimStep {
  claim: Claim;
  /** Publish now that the sleeve is held. */
  sayHere: boolean;
}

export function hearOther(
  claim: Claim,
  mine: { stream: string; run: string; isNew?: boolean },
  other: Pick<RelayWord, 'stream' | 'run' | 'says' | 'isNew'>,
  isRetained: boolean,
): ClaimStep {
  const same = { claim, sayHere: false };
  if (other.run === mine.run) return same;
  // The last will of an earlier process or of another relay; it must not be taken for this one's.
  if (other.says === 'gone') return { claim, sayHere: claim === 'held' };
  if (isRetained || other.stream === mine.stream) return same;
  if (claim === 'given-way') return same;
  if (claim === 'held') {
    const [isNew, isOtherNew] = [mine.isNew ?? false, other.isNew ?? false];
    const isStronger = isNew === isOtherNew ? other.stream < mine.stream : isNew;
    const yields = other.says === 'here' && isStronger;
    return yields ? { claim: 'given-way', sayHere: false } : { claim, sayHere: true };
  }
  const yields = other.says === 'here' || other.stream < mine.stream;
  return yields ? { claim: 'given-way', sayHere: false } : same;
}

const encoder = new TextEncoder();
const decoder = new TextDecoder();

export const encodeRelayWord = (word: RelayWord): Uint8Array => encoder.encode(JSON.stringify(word));

/** @returns null if it is not such a message */
export function decodeRelayWord(payload: Uint8Array): RelayWord | null {
  try {
    const word = JSON.parse(decoder.decode(payload)) as RelayWord;
    const isWhole =
      typeof word.stream === 'string' &&
      typeof word.run === 'string' &&
      ['asks', 'here', 'gone'].includes(word.says) &&
      Number.isInteger(word.sleeveNumber) &&
      (word.trouble === null || typeof word.trouble === 'string');
    return isWhole ? word : null;
  } catch {
    return null;
  }
}

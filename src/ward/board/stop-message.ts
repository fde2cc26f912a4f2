/**
 * Tells the guide of a sleeve that a feed with it must not begin: a small retained message on `sleeveTopics(place, number).stop`, MQTT 5,
 * QoS 1, JSON, which expires together with the stop. Zero seconds: the stop has ended.
 */
import { z } from 'zod';

const LONGEST_SEC = 600;
const schema = z.object({ version: z.literal(1), forSec: z.number().min(0).max(LONGEST_SEC) });

const encoder = new TextEncoder();
const decoder = new TextDecoder();

export const encodeStop = (forSec: number): Uint8Array =>
  encoder.encode(JSON.stringify({ version: 1, forSec }));

/** @returns duration of the stop, seconds; null if it is not such a message */
export function readStop(payload: Uint8Array): number | null {
  try {
    return schema.parse(JSON.parse(decoder.decode(payload))).forSec;
  } catch {
    return null;
  }
}

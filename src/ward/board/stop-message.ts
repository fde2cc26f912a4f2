/**
 * What a board tells whoever guides a sleeve when a feed with it must not begin: a small retained message on `sleeveTopics(place, number).stop`, MQTT 5,
 * QoS 1, JSON, which expires with what it says. Zero seconds: it was put right.
 */
import { z } from 'zod';

const LONGEST_SEC = 600;
const schema = z.object({ version: z.literal(1), forSec: z.number().min(0).max(LONGEST_SEC) });

const encoder = new TextEncoder();
const decoder = new TextDecoder();

export const encodeStop = (forSec: number): Uint8Array =>
  encoder.encode(JSON.stringify({ version: 1, forSec }));

/** @returns for how long, seconds; null for what is no such message */
export function readStop(payload: Uint8Array): number | null {
  try {
    return schema.parse(JSON.parse(decoder.decode(payload))).forSec;
  } catch {
    return null;
  }
}

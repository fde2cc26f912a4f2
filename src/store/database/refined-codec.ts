import { deflateRawSync, inflateRawSync } from 'node:zlib';
import { ownJson } from '../../base/typed.ts';
import type { RefinedFeed } from '../../sensing/moment.ts';

/** Rounded to a ten-thousandth (0.1 µL, 0.1 ms): far below a sleeve's resolution, in a third of the space. */
const KEPT_STEPS_PER_UNIT = 10_000;

/** A refined pass as stored: JSON, deflated. */
export function packRefined(refined: RefinedFeed): Buffer {
  const json = JSON.stringify(refined, (_key, field: unknown) =>
    typeof field === 'number' ? Math.round(field * KEPT_STEPS_PER_UNIT) / KEPT_STEPS_PER_UNIT : field,
  );
  return deflateRawSync(json);
}

/** The reverse of `packRefined`. @throws Error when the bytes are damaged */
export function unpackRefined(deflated: Uint8Array): RefinedFeed {
  return ownJson<RefinedFeed>(inflateRawSync(deflated).toString('utf8'));
}

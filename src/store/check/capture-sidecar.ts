/** Reads the sidecar file of a capture. */
import * as fs from 'node:fs';
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import { isSafeFeedId } from '../database/feed-id.ts';

/** The needed part of a sidecar file. */
const sidecarSchema = z.looseObject({
  feedId: z.string(),
  simulated: z.boolean(),
  sleeveId: z.string().min(1),
  softwareVersion: z.string().min(1),
  startedAt: z.iso.datetime(),
  sampleZeroAt: z.iso.datetime(),
  calibration: z.unknown(),
});

/** @throws PlainError rebuild-note if there is none for this feed */
export function readSidecar(path: string, id: string): z.infer<typeof sidecarSchema> {
  const remedy = 'Without its note it cannot be weighed; look into it with: ebbline replay';
  let data: unknown;
  try {
    data = JSON.parse(fs.readFileSync(path, 'utf8'));
  } catch (cause) {
    throw new PlainError('rebuild-note', `There is no note ${path} that can be read.`, remedy, { cause });
  }
  const sidecar = sidecarSchema.safeParse(data);
  if (!sidecar.success || sidecar.data.feedId !== id || !isSafeFeedId(id)) {
    throw new PlainError('rebuild-note', `The note ${path} is not that of this capture.`, remedy);
  }
  return sidecar.data;
}

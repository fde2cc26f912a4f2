/** Routes of stored data: list of babies, export as a file, deleting a baby for good. */
import { Readable } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { KeptService } from '../app/kept/kept-answers.ts';
import { keyOf, sameName } from '../base/babies.ts';
import { FieldError } from '../base/errors.ts';
import { answering } from './answering.ts';

const order = z.strictObject({
  id: z.string().min(1).max(80).nullable().default(null),
  baby: z.string().min(1).max(80),
  /** The name typed again, to confirm. */
  again: z.string().max(80),
});

export function addKeptRoutes(app: FastifyInstance, service: KeptService): void {
  app.get('/kept', (_request, reply) => answering(reply, () => service.kept()));
  app.post('/kept/forget', ({ body }, reply) => answering(reply, () => service.forget(babyTypedTwice(body))));
  app.get('/kept/ebbline.jsonl', (_request, reply) =>
    answering(reply, () => {
      const lines = Readable.from(unhurried(service.exportLines()));
      return reply
        .header('cache-control', 'no-store')
        .header('content-disposition', 'attachment; filename="ebbline.jsonl"')
        .type('application/jsonl; charset=utf-8')
        .send(lines);
    }),
  );
}

/** @returns the key of the baby @throws FieldError when the name typed again differs */
function babyTypedTwice(body: unknown): string {
  const parsed = order.safeParse(body);
  if (parsed.success && sameName(parsed.data.again, parsed.data.baby)) {
    return keyOf({ id: parsed.data.id, name: parsed.data.baby });
  }
  throw new FieldError(
    'forget-unsure',
    'again',
    'The name typed is not the name of the baby. Nothing was deleted.',
    'Type it as it stands above.',
  );
}

/** Yields between two lines, so that a running feed is not delayed. */
async function* unhurried(
  lines: ReturnType<KeptService['exportLines']>,
): AsyncGenerator<string | Uint8Array> {
  for await (const line of lines) {
    yield line;
    await new Promise((resolve) => setImmediate(resolve));
  }
}

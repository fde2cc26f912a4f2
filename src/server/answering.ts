/** Sends the answer of a service, or its refusal in the form that pages read; and printable files. */
import type { FastifyReply } from 'fastify';
import { FieldError, PlainError } from '../base/errors.ts';
import type { PaperEnding } from '../paper/paper-ending.ts';
import type { ErrorAnswer } from './answers.ts';

const refusalOf = (error: PlainError): ErrorAnswer => ({
  error: {
    code: error.code,
    message: error.message,
    remedy: error.remedy,
    ...(error instanceof FieldError && { field: error.field }),
  },
});

/** @param statusOf status for a refusal; default 422. Errors that are no PlainError go to the server's own handler. */
export async function answering(
  reply: FastifyReply,
  act: () => unknown,
  statusOf: (error: PlainError) => number = () => 422,
): Promise<unknown> {
  reply.header('cache-control', 'no-store');
  try {
    return await act();
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    return reply.code(statusOf(error)).send(refusalOf(error));
  }
}

const TYPES: Record<PaperEnding, string> = { pdf: 'application/pdf', html: 'text/html; charset=utf-8' };
/** A printable file has its own style and no script. A sandbox would keep browsers from showing a PDF. */
const POLICIES: Record<PaperEnding, string> = {
  pdf: "default-src 'none'; style-src 'unsafe-inline'",
  html: "default-src 'none'; style-src 'unsafe-inline'; sandbox allow-modals",
};

/** @param name without its extension, safe in a header; @param how shown in the browser, or saved */
export const sendPaper = (
  reply: FastifyReply,
  how: 'inline' | 'attachment',
  name: string,
  ending: PaperEnding,
  paper: string | Uint8Array,
): FastifyReply =>
  reply
    .type(TYPES[ending])
    .header('content-security-policy', POLICIES[ending])
    .header('content-disposition', `${how}; filename="${name}.${ending}"`)
    .send(typeof paper === 'string' ? paper : Buffer.from(paper));

/** Reads a study's protocol from its author's file or from the study's own files. */
import * as fs from 'node:fs';
import { PlainError } from '../../base/errors.ts';
import { code, type Protocol, protocolSchema } from '../../research/study/protocol.ts';
import type { SideFiles } from '../../store/side-files.ts';

export const PROTOCOL_FILE = 'protocol.json';

export { EXAMPLE_PROTOCOL } from '../../research/study/protocol.ts';

/** @throws PlainError study-file */
export function givenProtocol(path: string): unknown {
  try {
    return JSON.parse(fs.readFileSync(path, 'utf8'));
  } catch (cause) {
    throw new PlainError(
      'study-file',
      `The protocol ${path} cannot be read as JSON.`,
      'Check the name and the commas; "ebbline study example" prints a protocol to start from.',
      { cause },
    );
  }
}

/** @throws PlainError study-protocol */
export function protocolFrom(given: unknown): Protocol {
  const parsed = protocolSchema.safeParse(given);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  throw new PlainError(
    'study-protocol',
    `The protocol cannot be used: ${issue!.path.join('.') || 'the file'} ${issue!.message}.`,
    'Mend the file and begin again; nothing was made.',
  );
}

/** @param named the study's code as typed @throws PlainError study-unknown, study-newer, study-damaged */
export function readProtocol(studies: SideFiles, named: string): Protocol {
  const bytes = code.safeParse(named).success ? studies.within(named).read(PROTOCOL_FILE) : null;
  if (bytes === null) {
    throw new PlainError(
      'study-unknown',
      `There is no study ${named} in ${studies.where()}.`,
      'List them with "ebbline study list", or begin one with "ebbline study new".',
    );
  }
  const parsed = protocolSchema.safeParse(jsonIn(bytes, studies.within(named).where(PROTOCOL_FILE), named));
  if (parsed.success) return parsed.data;
  throw new PlainError(
    'study-newer',
    `The protocol of study ${named} cannot be read by this version: ${parsed.error.issues[0]!.message}.`,
    'Open it with the version that made it, or a newer one. Nothing was changed.',
  );
}

function jsonIn(bytes: Buffer, where: string, named: string): unknown {
  try {
    return JSON.parse(bytes.toString());
  } catch (cause) {
    throw new PlainError(
      'study-damaged',
      `The protocol of study ${named} is damaged: ${where} is not JSON.`,
      'Put the file back from a backup. Nothing was changed.',
      { cause },
    );
  }
}

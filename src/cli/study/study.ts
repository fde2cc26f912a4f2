/** `ebbline study …`: what the commands of research do. */
import { randomInt } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { exportStudy } from '../../app/study/study-export.ts';
import { StudyFolder } from '../../app/study/study-folder.ts';
import { PlainError } from '../../base/errors.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { say, sayJson } from '../print-out.ts';
import { withProgress } from '../progress.ts';
import { withStore } from '../with-store.ts';

interface Simulated {
  simulated?: boolean;
}

const CLOCK = { nowMs: () => Date.now(), drawSeed: () => randomInt(2 ** 47) };

const studiesIn = ({ simulated = false }: Simulated): string => join(dataFolder({ simulated }), 'studies');
const opened = (code: string, options: Simulated): StudyFolder =>
  StudyFolder.open(studiesIn(options), code, CLOCK);

/** @throws PlainError study-file, study-protocol, study-exists */
export function newCommand(file: string, options: Simulated): void {
  const { protocol } = StudyFolder.begin(studiesIn(options), readJson(file), CLOCK);
  say([
    `Study ${protocol.code} has begun: ${protocol.title}.`,
    ...(protocol.arms.some(({ cues }) => cues === 'logged')
      ? [
          'The protocol withholds cues in an arm. Ebbline does not do that by itself yet: have cues turned off on the page in those feeds.',
          'Signs of stress and the caregiver’s own judgment are never withheld.',
        ]
      : []),
    `Next: ebbline study enroll ${protocol.code} CODE`,
  ]);
}

function readJson(file: string): unknown {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch (cause) {
    throw new PlainError(
      'study-file',
      `The protocol ${file} cannot be read as JSON.`,
      'Check the name and the commas; the data dictionary of an export shows the fields.',
      { cause },
    );
  }
}

export function listCommand(options: Simulated & { json?: boolean }): void {
  const studies = StudyFolder.codes(studiesIn(options)).map((code) => {
    const study = opened(code, options);
    return {
      code,
      title: study.protocol.title,
      participants: study.allocations().length,
      sessions: study.sessions().length,
    };
  });
  if (options.json) return void sayJson(studies);
  if (studies.length === 0) return void say('No study has been begun.');
  say(
    studies.map(
      ({ code, title, participants, sessions }) =>
        `${code.padEnd(20)} ${String(participants).padStart(4)} participants ${String(sessions).padStart(5)} sessions  ${title}`,
    ),
  );
}

/** @throws PlainError */
export function enrollCommand(
  code: string,
  participant: string,
  options: Simulated & { stratum: string },
): void {
  const { arm, number, stratum } = opened(code, options).enroll(participant, options.stratum);
  say(`Participant ${participant} is number ${number} in stratum ${stratum}, arm ${arm}.`);
}

/** @throws PlainError feed-unknown, participant-unknown, session-twice */
export async function bindCommand(
  code: string,
  participant: string,
  feed: string,
  options: Simulated,
): Promise<void> {
  await withStore(options, (store) => {
    if (store.get(feed) === null) {
      throw new PlainError(
        'feed-unknown',
        `There is no kept feed ${feed}.`,
        'List them with "ebbline feeds".',
      );
    }
    const { session, arm } = opened(code, options).bind(feed, participant);
    say(`Feed ${feed} is session ${session}, arm ${arm}.`);
  });
}

/** @throws PlainError */
export async function exportCommand(
  code: string,
  options: Simulated & { out?: string; raw?: boolean },
): Promise<void> {
  const study = opened(code, options);
  const day = new Date(CLOCK.nowMs()).toISOString().slice(0, 10);
  await withStore(options, (store) => {
    const { sessions, folder, setAside, smallCells } = withProgress('Computing sessions', (onProgress) =>
      exportStudy(study, store, {
        out: resolve(options.out ?? `${code}-${day}`),
        raw: options.raw ?? false,
        softwareVersion: SOFTWARE_VERSION,
        onProgress,
      }),
    );
    say([
      `${sessions} sessions exported to ${folder}`,
      ...setAside.map(({ session, why }) => `set aside: ${session}, ${SET_ASIDE[why]}`),
      smallCells.length > 0 && `Few participants, who might be recognized: ${smallCells.join('; ')}.`,
    ]);
  });
}

const SET_ASIDE: Record<ReturnType<typeof exportStudy>['setAside'][number]['why'], string> = {
  'feed-missing': 'its feed is not kept any more',
  'not-ended': 'its feed has not ended, or was discarded',
  'no-capture': 'its raw counts are not here',
  'no-calibration': 'its calibration or its raw counts cannot be read',
  'calibration-too-old': 'its calibration was older than the protocol allows',
  'calibration-of-another-sleeve': 'its calibration is of another sleeve',
  'too-few-good-rows': 'too few of its rows are good',
  'other-milk': 'it was another kind of milk',
};

/** @throws PlainError study-unknown */
export function withdrawCommand(code: string, participant: string, options: Simulated): void {
  const study = opened(code, options);
  if (!study.allocations().some((one) => one.participant === participant)) {
    throw new PlainError(
      'participant-unknown',
      `Participant ${participant} is not in study ${code}.`,
      'Check the code. Nothing was changed.',
    );
  }
  const sessions = study.withdraw(participant);
  say([
    `Participant ${participant} and ${sessions} sessions are out of study ${code}.`,
    'Exports made before still hold them: delete those, and export anew.',
  ]);
}

/** `ebbline study …`: what the commands of research do. */
import { randomInt } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { exportStudy } from '../../app/study/study-export.ts';
import { StudyFolder } from '../../app/study/study-folder.ts';
import { PlainError } from '../../base/errors.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { openStore } from '../../store/feed-store.ts';
import { progressLine } from '../progress.ts';

interface Simulated {
  simulated?: boolean;
}

const CLOCK = { nowMs: () => Date.now(), drawSeed: () => randomInt(2 ** 47) };

const studiesIn = ({ simulated = false }: Simulated): string => join(dataFolder({ simulated }), 'studies');
const opened = (code: string, options: Simulated): StudyFolder =>
  StudyFolder.open(studiesIn(options), code, CLOCK);
const say = (...lines: string[]): boolean => process.stdout.write(`${lines.join('\n')}\n`);

/** @throws PlainError study-file, study-protocol, study-exists */
export function newCommand(file: string, options: Simulated): void {
  const { protocol } = StudyFolder.begin(studiesIn(options), readJson(file), CLOCK);
  say(
    `Study ${protocol.code} has begun: ${protocol.title}.`,
    ...(protocol.arms.some(({ cues }) => cues === 'logged')
      ? ['Cues are withheld in an arm. Signs of stress and the caregiver’s own judgment are never withheld.']
      : []),
    `Next: ebbline study enroll ${protocol.code} CODE`,
  );
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
  if (options.json) return void say(JSON.stringify(studies));
  if (studies.length === 0) return void say('No study has been begun.');
  say(
    ...studies.map(
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
export function bindCommand(code: string, participant: string, feed: string, options: Simulated): void {
  const store = openStore(dataFolder({ simulated: options.simulated ?? false }));
  try {
    if (store.get(feed) === null) {
      throw new PlainError(
        'feed-unknown',
        `There is no kept feed ${feed}.`,
        'List them with "ebbline feeds".',
      );
    }
    const { session, arm } = opened(code, options).bind(feed, participant);
    say(`Feed ${feed} is session ${session}, arm ${arm}.`);
  } finally {
    store.close();
  }
}

/** @throws PlainError */
export function exportCommand(code: string, options: Simulated & { out?: string; raw?: boolean }): void {
  const study = opened(code, options);
  const store = openStore(dataFolder({ simulated: options.simulated ?? false }));
  const day = new Date(CLOCK.nowMs()).toISOString().slice(0, 10);
  const count = study.sessions().length;
  const progress = progressLine('Computing sessions');
  try {
    const result = exportStudy(study, store, {
      out: resolve(options.out ?? `${code}-${day}`),
      raw: options.raw ?? false,
      softwareVersion: SOFTWARE_VERSION,
      onProgress: (done) => progress.at(done, count),
    });
    progress.end();
    say(
      `${result.sessions} sessions exported to ${result.folder}`,
      ...result.setAside.map(({ session, why }) => `set aside: ${session}, ${SET_ASIDE[why]}`),
      ...(result.smallCells.length > 0
        ? [`Few participants, who might be recognized: ${result.smallCells.join('; ')}.`]
        : []),
    );
  } finally {
    store.close();
  }
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
  say(
    `Participant ${participant} and ${sessions} sessions are out of study ${code}.`,
    'Exports made before still hold them: delete those, and export anew.',
  );
}

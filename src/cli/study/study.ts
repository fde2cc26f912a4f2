/** `ebbline study …`: what the commands of research do. */
import { readFileSync, realpathSync } from 'node:fs';
import { resolve } from 'node:path';
import { giveWay } from '../../app/aside/give-way.ts';
import { closeStudy, isBlinded } from '../../app/study/blinding.ts';
import { type Crew, createCrew } from '../../app/study/crew/crew.ts';
import { exportStudy } from '../../app/study/export/study-export.ts';
import { studyBriefs } from '../../app/study/figures/study-briefs.ts';
import { participantsNeeded, writeFigures } from '../../app/study/figures/study-figures.ts';
import { programSha256 } from '../../app/study/recompute/program.ts';
import { recomputeStudy } from '../../app/study/recompute/recompute.ts';
import type { ListedAside } from '../../app/study/sessions/set-aside-list.ts';
import { SET_ASIDE } from '../../app/study/sessions/set-aside-words.ts';
import { STUDY_CLOCK, StudyFolder, studiesIn } from '../../app/study/study-folder.ts';
import { whatIsLearned } from '../../app/study/what-is-learned.ts';
import { PlainError } from '../../base/errors.ts';
import { SOFTWARE_VERSION } from '../../base/version.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { say, sayJson } from '../print-out.ts';
import { withProgressOf } from '../progress.ts';
import { withStore } from '../with-store.ts';
import { learnedText } from './learned-text.ts';

interface Simulated {
  simulated?: boolean;
}

const CLOCK = STUDY_CLOCK;

const today = (): string => new Date(CLOCK.nowMs()).toISOString().slice(0, 10);
const studiesOf = ({ simulated = false }: Simulated): string => studiesIn(dataFolder({ simulated }));
const opened = (code: string, options: Simulated): StudyFolder =>
  StudyFolder.open(studiesOf(options), code, CLOCK);

/** @throws PlainError study-file, study-protocol, study-exists */
export function newCommand(file: string, options: Simulated): void {
  const { protocol } = StudyFolder.begin(studiesOf(options), readJson(file), CLOCK);
  say([
    `Study ${protocol.code} has begun: ${protocol.title}.`,
    ...(protocol.arms.some(({ cues }) => cues === 'logged')
      ? [
          'The protocol withholds cues in an arm: they are decided and kept, not shown, where “Before a feed” names the participant.',
          'Signs of stress are always shown, whoever feeds can show the cues at any time, and screening holds back what it holds back.',
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
  const studies = StudyFolder.codes(studiesOf(options)).map((code) => {
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

/** Computes at the lowest priority, so that a feed that runs beside it keeps its pace. */
async function withCrew<T>(act: (crew: Crew) => Promise<T>): Promise<T> {
  giveWay();
  const crew = createCrew();
  try {
    return await act(crew);
  } finally {
    await crew.close();
  }
}

const thisProgram = () => ({
  softwareVersion: SOFTWARE_VERSION,
  programSha256: programSha256(realpathSync(process.argv[1]!)),
});

/** @throws PlainError */
export async function exportCommand(
  code: string,
  options: Simulated & { out?: string; raw?: boolean },
): Promise<void> {
  const study = opened(code, options);
  const out = resolve(options.out ?? `${code}-${today()}`);
  const raw = options.raw ?? false;
  await withStore(options, async (store) => {
    const { sessions, folder, setAside, smallCells } = await withCrew((crew) =>
      withProgressOf('Exporting sessions', (onProgress) =>
        exportStudy(study, store, crew, { out, raw, ...thisProgram(), onProgress }),
      ),
    );
    say([
      `${sessions} sessions exported to ${folder}`,
      ...asideLines(setAside),
      smallCells.length > 0 && `Few participants, who might be recognized: ${smallCells.join('; ')}.`,
    ]);
  });
}

/** @throws PlainError */
export async function recomputeCommand(code: string, options: Simulated): Promise<void> {
  const study = opened(code, options);
  await withStore(options, async (store) => {
    const done = await withCrew((crew) =>
      withProgressOf('Computing sessions', (onProgress) =>
        recomputeStudy(study, store, crew, { ...thisProgram(), onProgress }),
      ),
    );
    say([
      `${done.sessions} sessions computed by version ${SOFTWARE_VERSION}, ${(done.lengthSec / 3600).toFixed(1)} h of feeds, in ${done.folder}`,
      done.isResumed && 'Went on where it was cut before.',
      `Compared with ${done.comparedWith === null ? 'what the feeds keep' : `run ${done.comparedWith}`}:`,
      ...(done.moved.length === 0
        ? ['  nothing moved']
        : done.moved.map(
            ({ what, unit, sessions, most }) =>
              `  ${what}: moved in ${sessions}, by at most ${most.toPrecision(3)} ${unit}`,
          )),
      ...asideLines(done.setAside),
    ]);
  });
}

/** @throws PlainError */
export async function figuresCommand(code: string, options: Simulated & { out?: string }): Promise<void> {
  const study = opened(code, options);
  const out = resolve(options.out ?? `${code}-figures-${today()}`);
  await withStore(options, async (store) => {
    const { briefs, setAside } = await withCrew((crew) =>
      withProgressOf('Computing sessions', (onProgress) =>
        studyBriefs(study, store, crew, thisProgram().programSha256, onProgress),
      ),
    );
    const written = await writeFigures(study.protocol, briefs, out);
    study.audit('drawn', `${briefs.length} sessions`);
    say([
      `${written.length} files of ${briefs.length} sessions in ${out}`,
      isBlinded(study) && 'Arms are coded until the study is closed.',
      ...asideLines(setAside),
    ]);
  });
}

/** @throws PlainError study-asks-otherwise */
export async function learnedCommand(code: string, participant: string, options: Simulated): Promise<void> {
  const study = opened(code, options);
  await withStore(options, (store) =>
    say(learnedText(whatIsLearned(study, store, participant, CLOCK.nowMs()))),
  );
}

export function sizeCommand({ sd, half }: { sd: number; half: number }): void {
  const each = participantsNeeded(sd, half);
  say(
    each === null
      ? 'More than 100,000 participants in each arm.'
      : `${each} participants in each arm, for a difference that is known to ± ${half} (95 %) where participants vary by ${sd}.`,
  );
}

/** @throws PlainError study-unknown, study-closed */
export function closeCommand(code: string, options: Simulated): void {
  closeStudy(opened(code, options));
  say(`Study ${code} is closed. Exports and figures name its arms from now on; nobody joins any more.`);
}

const asideLines = (setAside: readonly ListedAside[]): string[] =>
  setAside.map(({ session, why }) => `set aside: ${session}, ${SET_ASIDE[why]}`);

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

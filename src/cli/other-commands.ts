/** Replay, completion, and what the program starts by itself. */
import type { Command } from 'commander';
import { candidatesFor, SCRIPTS, SHELLS } from './completion.ts';
import type { Given, Part, Verbs } from './definition.ts';
import * as option from './options.ts';

const VERBS = {
  replay: {
    about: 'Run a capture file through the same steps as a live feed, as fast as possible.',
    '<capture>': 'capture file (.cap, .cap.gz or .cap.cols)',
    '--calibration <file>': option.needed('calibration file of the sleeve and bottle (JSON)'),
    '--portion-ml <number>': option.positive('planned portion, mL; only the change of sides rests on it'),
    ...option.json,
  },
  completion: {
    about: 'Print the shell script that completes commands with Tab.',
    '<shell>': option.oneOf('which shell', SHELLS),
  },
  complete: { about: '', '[words...]': '', isHidden: true },
  aside: {
    about: 'Heavy work for "ebbline start", which starts this by itself.',
    '<mode>': option.oneOf('what to do', ['serve', 'export']),
    '<folder>': 'folder of what is kept',
    isHidden: true,
  },
  'store-thread': {
    about: 'Stores feeds for "ebbline work", which starts this by itself.',
    isHidden: true,
  },
  'jobs-thread': {
    about: 'Computes for studies in "ebbline work", which starts this by itself.',
    isHidden: true,
  },
  'study-thread': {
    about: 'Computes sessions for "ebbline study", which starts this by itself.',
    isHidden: true,
  },
} as const satisfies Verbs;

export type OtherGiven<P extends keyof typeof VERBS> = Given<(typeof VERBS)[P]>;

/** @param program  whose commands are completed */
export const otherCommands = (program: Command): Part<typeof VERBS> => ({
  verbs: VERBS,
  load: async () => ({
    runs: {
      replay: async (given) => (await import('./replay.ts')).replayCapture(given),
      completion: ({ shell }) => process.stdout.write(SCRIPTS[shell]),
      complete: ({ words }) => {
        for (const { word, about } of candidatesFor(program, words ?? []))
          process.stdout.write(`${word}\t${about}\n`);
      },
      aside: async ({ mode, folder }) => {
        const { exportAside, serveAside } = await import('../app/aside/aside-process.ts');
        return mode === 'serve' ? serveAside(folder) : exportAside(folder);
      },
      'store-thread': async () => (await import('../app/work/storing/store-thread.ts')).serveStoreThread(),
      'jobs-thread': async () => (await import('../app/work/jobs/start-jobs.ts')).serveJobsThread(),
      'study-thread': async () => (await import('../app/study/crew/study-thread.ts')).serveStudyThread(),
    },
  }),
});

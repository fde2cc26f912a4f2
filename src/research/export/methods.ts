/** A methods paragraph with what was actually used, for a manuscript, in the study's language. Pure. */
import type { Protocol } from '../study/protocol.ts';
import { EXPORT_WORDS } from './export-words.ts';

export interface MethodsFacts {
  protocol: Protocol;
  participants: number;
  sessions: number;
  setAside: number;
  softwareVersion: string;
  /** The study is not closed: arms are coded. */
  isBlinded: boolean;
  recordedBy: readonly string[];
  calibrations: number;
  samplesPerSec: number;
  /** Median over the sessions of the median over the rows of each. */
  flowSdMlPerMin: number;
  milkSdMl: number;
}

export function methodsText(facts: MethodsFacts): string {
  const { allocation, arms, language } = facts.protocol;
  const { methods: words } = EXPORT_WORDS[language];
  const codes = arms.map(({ code }) => code);
  const design = [
    ...(allocation === null ? [] : [words.randomised(codes, allocation)]),
    ...(arms.some(({ cues }) => cues === 'logged') ? [words.withheld] : []),
    ...(facts.isBlinded ? [words.blinded] : []),
  ];
  // Medians of nothing would look like measured zeros.
  const paragraphs =
    facts.sessions === 0
      ? [[words.noSession(facts), ...design].join(' ')]
      : [[words.weighed(facts), words.setAside(facts.setAside), ...design].join(' '), words.estimated(facts)];
  return `${[`# ${words.title}`, ...paragraphs, words.prototype].join('\n\n')}\n`;
}

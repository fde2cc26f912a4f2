/** The core, room by room: where mistakes are made, and which tests are to notice them. */
import { readdirSync } from 'node:fs';

export interface Room {
  name: string;
  sources: RegExp;
  /** Folders and files of its tests; the quick ones alone. */
  tests: string[];
}

/** Files of words, and files that only export others, are left out. */
const NO_PLACE = /(^|\/)(index|words[\w-]*|[\w-]*-words[\w-]*)\.ts$/;

export const ROOMS: readonly Room[] = [
  {
    name: 'base',
    sources: /^src\/base\//,
    tests: ['tests/base', 'tests/store/whose.test.ts', 'tests/store/babies.test.ts'],
  },
  { name: 'sensing', sources: /^src\/sensing\//, tests: ['tests/sensing'] },
  { name: 'pacing', sources: /^src\/pacing\//, tests: ['tests/pacing'] },
  { name: 'planning', sources: /^src\/planning\//, tests: ['tests/planning'] },
  { name: 'calibration', sources: /^src\/calibration\//, tests: ['tests/calibration'] },
  { name: 'feed', sources: /^src\/feed\//, tests: ['tests/feed'] },
  {
    name: 'review',
    sources: /^src\/review\/facts\//,
    tests: ['tests/review'],
  },
];

export const sourcesOf = ({ sources }: Room): string[] =>
  readdirSync('src', { recursive: true, encoding: 'utf8' })
    .map((name) => `src/${name}`)
    .filter((file) => file.endsWith('.ts') && sources.test(file) && !NO_PLACE.test(file))
    .sort();

/** The tables of a study's export: each column with its type, unit and meaning. Export, data package and dictionary are made of this. */
import { INDEX_KEYS, INDICES } from '../indices/definitions.ts';
import type { Protocol } from '../study/protocol.ts';
import { EXPORT_WORDS } from './export-words.ts';

export interface Column {
  name: string;
  type: 'string' | 'number' | 'integer' | 'boolean';
  /** In the notation of the SI brochure; null where the column has none. */
  unit: string | null;
  description: string;
  /** Never empty. */
  required: boolean;
}

export interface TableDefinition {
  name: 'sessions' | 'rows' | 'sucks' | 'cues' | 'told' | 'indices' | 'raw';
  description: string;
  columns: readonly Column[];
}

const column = (name: string, type: Column['type'], unit: string | null, description: string): Column => ({
  name,
  type,
  unit,
  description,
  required: false,
});
const required = (one: Column): Column => ({ ...one, required: true });

const SESSION = required(column('session', 'string', null, 'Code of the session within the study.'));
const AT = required(column('at_s', 'number', 's', 'Time since the first latch, by the clock of the sleeve.'));

export const TABLES: readonly TableDefinition[] = [
  {
    name: 'sessions',
    description: 'One row a feed.',
    columns: [
      SESSION,
      column('participant', 'string', null, 'Code of the participant.'),
      column('arm', 'string', null, 'Arm of the protocol; coded until the study is closed.'),
      column(
        'day',
        'string',
        null,
        'Day of the feed, ISO 8601; moved by whole weeks where the protocol says so.',
      ),
      column('portion_ml', 'number', 'mL', 'Planned portion; empty where none was entered.'),
      column(
        'duration_s',
        'number',
        's',
        'From the first latch to the last moment with the nipple in the mouth.',
      ),
      column('intake_ml', 'number', 'mL', 'Milk taken, refined estimate.'),
      column('spilt_ml', 'number', 'mL', 'Milk that left the bottle and not into the mouth.'),
      column('calibration', 'string', null, 'SHA-256 of the calibration that turned counts into milk.'),
      column('recorded_by', 'string', null, 'Version of Ebbline that recorded the feed.'),
      column(
        'computed_by',
        'string',
        null,
        'Version of Ebbline that computed these numbers from the raw counts.',
      ),
      column(
        'told_known',
        'boolean',
        null,
        'Whether it was written down what a caregiver was told; not so in older feeds; empty until the study is closed.',
      ),
      column('set_aside', 'string', null, 'Why the session does not meet the protocol; empty where it does.'),
    ],
  },
  {
    name: 'rows',
    description: 'The refined estimate, two rows a second.',
    columns: [
      SESSION,
      AT,
      column('milk_ml', 'number', 'mL', 'Milk in the bottle.'),
      column('milk_sd_ml', 'number', 'mL', 'Its standard deviation.'),
      column('intake_ml', 'number', 'mL', 'Milk taken so far.'),
      column('flow_ml_per_min', 'number', 'mL/min', 'Flow over t - 5 s to t + 5 s.'),
      column('flow_sd_ml_per_min', 'number', 'mL/min', 'Its standard deviation.'),
      column('teat_in_mouth', 'boolean', null, 'Whether the nipple was in the mouth.'),
      column('quality', 'string', null, 'good, degraded or invalid.'),
    ],
  },
  {
    name: 'sucks',
    description: 'One row a suck that the sleeve saw.',
    columns: [SESSION, AT],
  },
  {
    name: 'cues',
    description: 'What the rules decided, shown or not.',
    columns: [SESSION, AT, column('kind', 'string', null, 'Kind of the cue.')],
  },
  {
    name: 'told',
    description:
      'What a caregiver was told, one row for each output; see told_known of the session. It gives away the arm, so that it has no rows until the study is closed.',
    columns: [
      SESSION,
      AT,
      column('shown', 'string', null, 'What was shown.'),
      column('output', 'string', null, 'page, light or sound.'),
    ],
  },
  {
    name: 'indices',
    description:
      'Indices of nutritive sucking: value with its interval, or the reason why it is missing. The intervals aim at 95 %; how often they cover the truth was seen in simulated feeds alone.',
    columns: [
      SESSION,
      column('index', 'string', null, `One of ${INDEX_KEYS.join(', ')}.`),
      column('value', 'number', null, 'In the unit that stands beside it; empty where missing.'),
      column('low', 'number', null, 'Lower end of the interval.'),
      column('high', 'number', null, 'Upper end of the interval.'),
      column('unit', 'string', null, 'Unit of value, low and high.'),
      column('missing', 'string', null, 'Why there is no value.'),
    ],
  },
  {
    name: 'raw',
    description: 'The raw counts as they came from the sleeve: enough to compute all else anew.',
    columns: [
      SESSION,
      required(column('sample', 'integer', null, 'Number of the sample; wraps after 65535.')),
      AT,
      ...['axial', 'front', 'rear'].map((cell, i) =>
        required(column(`load_${i + 1}`, 'integer', null, `Counts of load cell ${i + 1} (${cell}).`)),
      ),
      ...['x', 'y', 'z'].map((axis) =>
        required(
          column(`accel_${axis}`, 'integer', null, `Counts of the accelerometer, ${axis}; 8192 are 1 g.`),
        ),
      ),
      ...['x', 'y', 'z'].map((axis) =>
        column(
          `gyro_${axis}`,
          'integer',
          null,
          `Counts of the gyroscope, ${axis}; 65.5 are 1 °/s; empty without one.`,
        ),
      ),
      required(
        column(
          'flags',
          'integer',
          null,
          'Bits, from the lowest: axial, front, rear cell at fault, accelerometer at fault, samples lost before this one, button down, supply low, first after a reset.',
        ),
      ),
    ],
  },
];

const rowOf = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
const headOf = (cells: readonly string[]): string[] => [rowOf(cells), rowOf(cells.map(() => '---'))];

/** The dictionary as a page of Markdown in the study's language: tables, then indices with their formulas and sources. */
export function dictionaryText(language: Protocol['language']): string {
  const words = EXPORT_WORDS[language];
  const { title, files, columns: heads, indices, sees, ofIndex } = words.dictionary;
  const tables = TABLES.flatMap((table) => [
    `## ${table.name}`,
    '',
    words.table(table),
    '',
    ...headOf(heads),
    ...table.columns.map((one) => rowOf([one.name, one.type, one.unit ?? '', words.column(table, one)])),
    '',
  ]);
  const definitions = INDEX_KEYS.map((key) => {
    const { label, definition, source } = words.index(key);
    const { unit, formula } = INDICES[key];
    return rowOf([key, label, unit, definition, `\`${formula}\``, source]);
  });
  return [
    ...[`# ${title}`, '', files, '', ...tables],
    ...[`## ${indices}`, '', sees, '', ...headOf(ofIndex), ...definitions, ''],
  ].join('\n');
}

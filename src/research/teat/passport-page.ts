/** The published JSON Schema of passports and the page that explains it, both made from passport-format.ts. Pure. */
import { z } from 'zod';
import { teatPassport } from './passport.ts';
import { teatPassportsSchema } from './passport-format.ts';

/** What is read of a JSON Schema here. */
interface Schema {
  type?: string;
  const?: unknown;
  enum?: readonly unknown[];
  anyOf?: readonly Schema[];
  items?: Schema;
  properties?: Readonly<Record<string, Schema>>;
  minimum?: number;
  exclusiveMinimum?: number;
  maximum?: number;
  minLength?: number;
  maxLength?: number;
  description?: string;
  unit?: string;
}

const MADE_OF = 'Generated from src/research/teat/passport-format.ts by `npm run gen`. Do not edit.';

/** JSON Schema, draft 2020-12; `unit` beside `description` is our own word, which a validator passes over. */
const passportSchema = (): Schema & { $schema: string } =>
  JSON.parse(JSON.stringify(z.toJSONSchema(teatPassportsSchema, { io: 'input' })));

export function passportSchemaText(): string {
  const { $schema, ...schema } = passportSchema();
  const titled = {
    $schema,
    $comment: MADE_OF,
    title: 'Passports of a bottle’s nipple, newest last',
    ...schema,
  };
  return `${JSON.stringify(titled, null, 2)}\n`;
}

function rangeOf({ minimum, exclusiveMinimum, maximum }: Schema): string {
  const most = maximum === undefined || maximum >= Number.MAX_SAFE_INTEGER ? '' : ` to ${maximum}`;
  if (exclusiveMinimum !== undefined) return ` above ${exclusiveMinimum}${most}`;
  if (minimum === undefined || minimum <= Number.MIN_SAFE_INTEGER) return '';
  return most === '' ? `, at least ${minimum}` : `, ${minimum}${most}`;
}

function kindOf(schema: Schema): string {
  if (schema.anyOf) return schema.anyOf.map(kindOf).join(' or ');
  if (schema.const !== undefined) return `\`${JSON.stringify(schema.const)}\``;
  if (schema.enum) return schema.enum.map((one) => `\`${JSON.stringify(one)}\``).join(', ');
  if (schema.type === 'string') return `text of ${schema.minLength} to ${schema.maxLength} characters`;
  return `${schema.type === 'integer' ? 'whole number' : schema.type}${rangeOf(schema)}`;
}

/** Fields with those within them, in order. */
const fieldsOf = ({ properties = {}, anyOf = [] }: Schema, before = ''): [path: string, of: Schema][] => [
  ...Object.entries(properties).flatMap(([name, of]): [string, Schema][] => [
    [`${before}${name}`, of],
    ...fieldsOf(of, `${before}${name}.`),
  ]),
  ...anyOf.flatMap((one) => fieldsOf(one, before)),
];

const TRIALS = {
  version: 1,
  teat: 'the one with the blue ring',
  liquid: 'water',
  suction: 'free',
  tiltDeg: 30,
  headMm: 50,
  atMs: Date.UTC(2026, 0, 6, 9),
  scale: { stepGrams: 1, keptOn: true },
  trials: [11, 12, 11].map((volumeMl) => ({ volumeMl, durationSec: 60 })),
};

export const passportPage = (): string => `<!-- ${MADE_OF} -->
# The passport of a nipple

What one nipple of a bottle gives, how much that varies and how well it is known: an open format, JSON in UTF-8. It is
of this very nipple, not of a make, and tells nothing of what is right for a baby.

\`ebbline nipple measure\` makes one and keeps it in \`nipples/\` of the data folder, a file a nipple, newest last;
\`ebbline nipple list --json\` prints the newest of each. Both are arrays of passports, and what they must be like is in
[passport.schema.json](passport.schema.json) (JSON Schema, draft 2020-12; \`unit\` in it is our own word). A field may be
null where that is said, and is never left out; there are no others.

| field | type | unit | meaning |
| --- | --- | --- | --- |
${fieldsOf(passportSchema().items!)
  .map(([path, of]) => `| \`${path}\` | ${kindOf(of)} | ${of.unit ?? ''} | ${of.description} |`)
  .join('\n')}

## How the interval is made

Terms are those of the GUM (JCGM 100:2008). The interval of the mean joins, as squares, the scatter of the trials by
Student's t, and with a coverage factor of 1.96 the step of the scale, the clock and the height of the liquid (0.58 mm,
of which the flow feels half its share, by Torricelli's law). A scale that is read anew for each trial may round each of
them alike, so that its step does not average out; with the cup left on it from trial to trial there is one rounding.
Effective degrees of freedom (GUM G.4.1) are not used: they cover too little where three trials happen to be alike.

Measured as on a laboratory bench (nipple 30° down, 50 mL, one minute a trial: Pados, Park, Estrem et al., conference
poster, abstract) or with water at a kitchen table, three minutes in all. In 200 simulated kitchens the mean was within
5 % of the truth in at least 95 % (\`tests/research/teat-passport.test.ts\`).

## An example

Invented; three trials of a minute with water.

\`\`\`json
${JSON.stringify([teatPassport(TRIALS)], null, 2)}
\`\`\`
`;

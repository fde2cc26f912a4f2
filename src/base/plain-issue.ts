/** Turns zod's error messages into plain words. A message that a schema of ours gives is used as it is; zod's own messages are replaced. */
import type { z } from 'zod';

/** How zod's own English messages begin. */
const ZODS_OWN = /^(Invalid|Unrecognized|Too (big|small)|Expected|Required|Unknown|No |Unexpected)/;

/** @returns what is wrong, to be put after the name of the field: "must be a number of mL", "is missing" */
export function plainIssue(issue: z.core.$ZodIssue): string {
  if (!ZODS_OWN.test(issue.message)) return issue.message;
  switch (issue.code) {
    case 'unrecognized_keys':
      return `has ${issue.keys.map((key) => JSON.stringify(key.slice(0, 40))).join(', ')}, which is not known here`;
    case 'invalid_type':
      return issue.input === undefined && issue.message.includes('undefined')
        ? 'is missing'
        : `must be ${KINDS[issue.expected] ?? 'of another kind'}`;
    case 'too_big':
      return `must be at most ${String(issue.maximum)}`;
    case 'too_small':
      return `must be at least ${String(issue.minimum)}`;
    case 'invalid_value':
      return `must be one of: ${issue.values.map(String).join(', ')}`;
    default:
      return 'cannot be right';
  }
}

const KINDS: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object with fields',
  record: 'an object with fields',
  tuple: 'a list of fixed length',
  null: 'null',
};

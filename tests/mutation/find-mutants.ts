/**
 * Small mistakes that a source could have: a turned sign, an "or" for an "and", a boundary that moved, a number four times as large. The operators
 * are the sufficient ones of mutation testing (Offutt et al. 1996, ACM TOSEM 5(2): arithmetic, relational, logical; from memory) and numbers.
 * What could make an endless loop is left out: heads of loops, and steps such as `i += 1`.
 */
import { createHash } from 'node:crypto';
import { parseAst } from 'vitest/node';

export interface Mutant {
  /** Path from the root of the repository. */
  file: string;
  line: number;
  start: number;
  end: number;
  from: string;
  to: string;
  /** The same for the same mistake while its line stays as it is, wherever the file is moved. */
  id: string;
}

interface Node {
  type: string;
  start: number;
  end: number;
  [key: string]: unknown;
}

const SWAPPED: Record<string, string> = {
  '+': '-',
  '-': '+',
  '*': '/',
  '/': '*',
  '<': '<=',
  '<=': '<',
  '>': '>=',
  '>=': '>',
  '===': '!==',
  '!==': '===',
  '&&': '||',
  '||': '&&',
};
/** A comparison is turned round instead of moved by its boundary, every second time. */
const TURNED: Record<string, string> = { '<': '>=', '<=': '>', '>': '<=', '>=': '<' };
const NUMBER_FACTOR = 4;

const hash = (text: string): number => createHash('sha1').update(text).digest().readUInt32BE(0);
const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';
const isText = (node: unknown): boolean =>
  isNode(node) &&
  (node.type === 'TemplateLiteral' || (node.type === 'Literal' && typeof node.value === 'string'));

/** Children that are run, with what may not be changed in them left out. */
function children(node: Node): Node[] {
  const skipped = new Set<string>();
  if (node.type === 'ForStatement') for (const key of ['init', 'test', 'update']) skipped.add(key);
  if (node.type === 'WhileStatement' || node.type === 'DoWhileStatement') skipped.add('test');
  if ((node.type === 'Property' || node.type === 'PropertyDefinition') && !node.computed) skipped.add('key');
  // An index is no quantity.
  if (node.type === 'MemberExpression') skipped.add('property');
  return Object.entries(node)
    .filter(([key]) => !skipped.has(key) && key !== 'typeAnnotation' && key !== 'returnType')
    .flatMap(([, value]) => (Array.isArray(value) ? value : [value]))
    .filter(isNode)
    .filter(({ type }) => !/^TS(Type|Interface|Enum|Union|Literal|Array)|^Import|^ExportAll/.test(type));
}

/** @returns what a node may be replaced by; null where nothing is to be changed */
function mutation(node: Node, source: string): { start: number; end: number; to: string } | null {
  if (node.type === 'BinaryExpression' || node.type === 'LogicalExpression') {
    const [left, right, operator] = [node.left as Node, node.right as Node, String(node.operator)];
    // Texts are joined, not added.
    if (!SWAPPED[operator] || (operator === '+' && (isText(left) || isText(right)))) return null;
    const turn = TURNED[operator] && hash(source.slice(node.start, node.end)) % 2 === 0;
    const to = turn ? TURNED[operator] : SWAPPED[operator];
    const text = (part: Node) => source.slice(part.start, part.end);
    return { start: node.start, end: node.end, to: `((${text(left)}) ${to} (${text(right)}))` };
  }
  if (node.type === 'UnaryExpression' && (node.operator === '-' || node.operator === '!')) {
    const { start, end } = node.argument as Node;
    return { start: node.start, end: node.end, to: `(${source.slice(start, end)})` };
  }
  if (node.type === 'Literal' && typeof node.value === 'number' && node.value !== 0 && node.value !== 1) {
    const factor = hash(String(node.raw)) % 2 === 0 ? NUMBER_FACTOR : 1 / NUMBER_FACTOR;
    return { start: node.start, end: node.end, to: `(${node.value * factor})` };
  }
  return null;
}

/** @param source TypeScript without JSX */
export function findMutants(file: string, source: string): Mutant[] {
  const found: Mutant[] = [];
  const times = new Map<string, number>();
  const lineOf = (at: number): number => source.slice(0, at).split('\n').length;
  const lines = source.split('\n');
  const walk = (node: Node): void => {
    const change = mutation(node, source);
    if (change) {
      const { start, end, to } = change;
      const line = lineOf(start);
      const from = source.slice(start, end);
      const what = `${file.split('/').at(-1)} ${lines[line - 1]!.trim()} ${from} → ${to}`;
      const before = times.get(what) ?? 0;
      times.set(what, before + 1);
      found.push({
        file,
        line,
        start,
        end,
        from,
        to,
        id: hash(`${what} ${before}`).toString(16).padStart(8, '0'),
      });
    }
    for (const child of children(node)) walk(child);
  };
  walk(parseAst(source, { lang: 'ts' }) as unknown as Node);
  return found;
}

/** Draws some of them: the same for the same seed, whatever else there is. */
export const drawn = (mutants: readonly Mutant[], seed: number, count: number): Mutant[] =>
  mutants
    .map((mutant) => ({ mutant, order: hash(`${seed} ${mutant.id}`) }))
    .sort((a, b) => a.order - b.order)
    .slice(0, count)
    .map(({ mutant }) => mutant);

export const mutated = (source: string, { start, end, to }: Mutant): string =>
  source.slice(0, start) + to + source.slice(end);

/** The source with a note of each of these places that is reached: `globalThis.reached(id)`. */
export function watched(source: string, mutants: readonly Mutant[]): string {
  // From the inside to the outside, so that places within places stay whole.
  const marks = mutants.flatMap(({ start, end, id }) => [
    { at: start, isEnd: false, size: end - start, text: `(globalThis.reached?.('${id}'), ` },
    { at: end, isEnd: true, size: end - start, text: ')' },
  ]);
  marks.sort(
    (a, b) =>
      a.at - b.at || Number(b.isEnd) - Number(a.isEnd) || (a.isEnd ? a.size - b.size : b.size - a.size),
  );
  let text = '';
  let from = 0;
  for (const mark of marks) {
    text += source.slice(from, mark.at) + mark.text;
    from = mark.at;
  }
  return text + source.slice(from);
}

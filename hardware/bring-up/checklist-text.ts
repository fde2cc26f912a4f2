/** The bring-up checklist as Markdown, for the build guide. */
import { CHECKLIST, type CheckStep, type Limit } from './checklist.ts';

function limitText({ what, unit, least, greatest }: Limit): string {
  const withUnit = (value: number) =>
    unit === '' || unit === '%' || unit === '°' ? `${value}${unit}` : `${value} ${unit}`;
  if (least !== undefined && greatest !== undefined)
    return least === greatest ? `${what}: ${withUnit(least)}` : `${what}: ${least} to ${withUnit(greatest)}`;
  if (least !== undefined) return `${what}: at least ${withUnit(least)}`;
  return greatest === 0 ? `${what}: none` : `${what}: at most ${withUnit(greatest!)}`;
}

const passes = (step: CheckStep): string =>
  step.kind === 'look' ? step.question : step.limits.map(limitText).join('; ');

export const checklistTable = (): string =>
  [
    '| check | what to do | passes when | if it fails |',
    '| --- | --- | --- | --- |',
    ...CHECKLIST.map((step) => `| ${step.title} | ${step.doThis} | ${passes(step)} | ${step.ifItFails} |`),
  ].join('\n');

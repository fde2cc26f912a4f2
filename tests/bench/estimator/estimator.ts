/** `npm run bench -- estimator [--quick]`: how true the estimate is, group by group, beside its targets and simpler ways. */
import { boundTable } from './bound.ts';
import { estimatorCases } from './cases.ts';
import { type CaseResult, runCase } from './run-case.ts';
import { caseTable, coverTable, mainTable, overallTable, saidTable } from './tables.ts';

export function benchEstimator(flags: ReadonlySet<string>): void {
  const quick = flags.has('quick');
  const results: CaseResult[] = estimatorCases(quick).map(runCase);
  mainTable(results);
  overallTable(results);
  caseTable(results);
  saidTable(results);
  coverTable(results);
  boundTable(quick);
}

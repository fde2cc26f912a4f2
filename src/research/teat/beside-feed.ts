/**
 * Compares a feed with the nipple's passport: whether milk ran faster than its last measurement allows. It indicates a worn or another nipple
 * and says nothing about the baby. Pure.
 */
import type { FeedRow } from '../../feed/record/feed.ts';
import type { TeatPassport } from './passport-format.ts';

export interface TeatBesideFeed {
  measuredAtMs: number;
  /** The suction it was measured under, mmHg; null: without suction. */
  suctionMmHg: number | null;
  /** Measured flow, mL/min. */
  measuredMlPerMin: number;
  /** Largest flow expected in a feed: in pauses, or, if measured with suction, at the strongest usual sucking. */
  mostMlPerMin: number;
  /** Flow in this feed: in the slowest tenth, or in the fastest. */
  gaveMlPerMin: number;
  isFaster: boolean;
}

/** Suction at a bottle: 87.5 mmHg, deviation 28.5, 22 term babies (Mizuno and Ueda 2006, Pediatr Res 59:728, abstract); two deviations up. */
const STRONG_SUCTION_MMHG = 87.5 + 2 * 28.5;
/** Milk above the hole in a bottle held upside down, mm. Assumption, no source. */
const MOST_HEAD_MM = 120;
/** One millimetre of water or milk is about this, mmHg. */
const MMHG_PER_MM = 0.075;
/** Error of the flow estimate (bench of accuracy: 0.6 to 2.8), mL/min. */
const FLOW_ERROR_ML_PER_MIN = 2.5;
/** With less time than this with the nipple in the mouth there is no result, rows of a second. Own choice, no source. */
const FEWEST_ROWS = 180;
const TENTH = 0.1;

/**
 * @param passports of this nipple, newest last; those made after the start of the feed are ignored
 * @returns a clearly faster result if there is one; null if there is no result
 */
export function teatBesideFeed(
  passports: readonly TeatPassport[],
  { startedAtMs, rows }: { startedAtMs: number; rows: readonly FeedRow[] },
): TeatBesideFeed | null {
  const flows = rows
    .flatMap(({ teatInMouth, flowMlPerMin }) => (teatInMouth && flowMlPerMin !== null ? [flowMlPerMin] : []))
    .sort((a, b) => a - b);
  if (flows.length < FEWEST_ROWS) return null;
  const before = passports.filter(({ atMs }) => atMs <= startedAtMs);
  const beside = [true, false].flatMap((isFree) => {
    const last = before.findLast(({ conditions }) => (conditions.suction === 'free') === isFree);
    return last ? [besideOne(last, flows)] : [];
  });
  return beside.find(({ isFaster }) => isFaster) ?? beside[0] ?? null;
}

function besideOne(passport: TeatPassport, flows: readonly number[]): TeatBesideFeed {
  const { atMs, flowMlPerMin, highMlPerMin, conditions } = passport;
  const suctionMmHg = conditions.suction === 'free' ? null : conditions.suction.mmHg;
  // By Torricelli's law flow is proportional to the root of the pressure.
  const measuredMmHg = (suctionMmHg ?? 0) + MMHG_PER_MM * conditions.headMm;
  const feedMmHg = (suctionMmHg === null ? 0 : STRONG_SUCTION_MMHG) + MMHG_PER_MM * MOST_HEAD_MM;
  const mostMlPerMin = highMlPerMin * Math.sqrt(Math.max(1, feedMmHg / measuredMmHg));
  const share = suctionMmHg === null ? TENTH : 1 - TENTH;
  const gaveMlPerMin = flows[Math.floor(share * (flows.length - 1))]!;
  return {
    measuredAtMs: atMs,
    suctionMmHg,
    measuredMlPerMin: flowMlPerMin,
    mostMlPerMin,
    gaveMlPerMin,
    isFaster: gaveMlPerMin > mostMlPerMin + FLOW_ERROR_ML_PER_MIN,
  };
}

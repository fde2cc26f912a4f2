/** A nipple's measured flow in words for a terminal. */
import type { TeatPassport } from './teat-passports.ts';

const flow = ({ flowMlPerMin, lowMlPerMin, highMlPerMin }: TeatPassport): string =>
  `${flowMlPerMin.toFixed(1)} mL/min (95 %: ${lowMlPerMin.toFixed(1)} to ${highMlPerMin.toFixed(1)})`;
const how = ({ conditions: { suction, liquid } }: TeatPassport): string =>
  suction === 'free' ? `by itself, ${liquid}` : `under ${suction.mmHg} mmHg, ${liquid}`;
export const passportLine = (passport: TeatPassport): string =>
  `${new Date(passport.atMs).toISOString().slice(0, 10)}  ${flow(passport)} ${how(passport)}  ${passport.teat}`;

export function passportText(passport: TeatPassport): string[] {
  const { trials, trialsFor5Percent, coefficientOfVariation, holeMm, wear, teat } = passport;
  return [
    `${teat}: ${flow(passport)} ${how(passport)}, ${trials} trials.`,
    `Trials varied by ${(100 * coefficientOfVariation).toFixed(0)} % (published for nipples of one kind: 3 to 61 %); ${
      trialsFor5Percent === null
        ? 'more of such trials would not give the mean to 5 %: take longer ones, or leave the cup on the scale (--shown)'
        : `${trialsFor5Percent} trials would give the mean to 5 %`
    }.`,
    ...(holeMm
      ? [
          `As a round hole: ${holeMm.least.toFixed(2)} to ${holeMm.most.toFixed(2)} mm; the formula is uncertain for so small a hole.`,
        ]
      : []),
    ...(wear
      ? [
          `${wear.ratio === null ? 'Nothing ran out' : `${wear.ratio.toFixed(2)} times what it gave`} when it was last measured so${wear.isClear ? ': it has changed; look at its hole' : ', which may be chance'}.`,
        ]
      : []),
    'It tells nothing of what is right for a baby: go by baby.',
  ];
}

/** The feeding plan as PDF: one sheet, in the largest type that fits. */
import { PlainError } from '../../base/errors.ts';
import { HUE, INK, MARGIN, openPen, type Pdf, type Pen, type Place, RULE, SOFT, type Style } from '../pen.ts';
import type { FeedingPlan, LightSign } from './feeding-plan.ts';
import { glowBars, RHYTHM_SEC } from './page.ts';

/** Sizes of type tried for the body, largest first. */
const BODY_SIZES = [16, 15.5, 15, 14.5, 14, 13.5, 13, 12.5, 12, 11.5, 11, 10.5, 10, 9.5, 9];
const GAP = 20;
const BAR_WIDTH = 76;

/** @returns the bytes of the document. @throws PlainError when the font lacks a letter, or it does not fit on one page */
export async function feedingPlanPdf(plan: FeedingPlan): Promise<Buffer> {
  const { subtitle, blocks, reach } = plan;
  const given = [
    subtitle,
    ...blocks.flatMap(({ lines }) => lines),
    ...reach.people.flatMap(({ name, phone }) => [name, phone]),
  ];
  const pen = openPen(`${plan.title}: ${subtitle}`, plan.language, given);
  const bottom = pen.pdf.page.height - MARGIN + 8;
  const ruler: Pen = { ...pen, write: pen.measure, shape: () => {} };
  const size = BODY_SIZES.find((one) => layOut(ruler, plan, one) <= bottom);
  if (size === undefined)
    throw new PlainError(
      'feeding-plan-too-long',
      'The feeding plan does not fit on one page.',
      'Shorten the notes or the rule about leftovers.',
    );
  layOut(pen, plan, size);
  return pen.finish();
}

const bold = (size: number, color = INK): Style => ({ size, font: 'semibold', color });

/** @returns y of its end */
function layOut(pen: Pen, plan: FeedingPlan, size: number): number {
  const { pdf, write, shape } = pen;
  const width = pdf.page.width - 2 * MARGIN;
  const top = MARGIN - 12;
  let y = write(plan.title, { x: MARGIN, y: top, width }, bold(28), 'H1');
  const titleWidth = pdf.font('semibold').fontSize(28).widthOfString(plan.title);
  const nameWidth = pdf.font('semibold').fontSize(16).widthOfString(plan.subtitle);
  const isBeside = titleWidth + nameWidth + GAP <= width;
  const nameX = isBeside ? MARGIN + width - nameWidth - 2 : MARGIN;
  const below = write(
    plan.subtitle,
    { x: nameX, y: isBeside ? y - 25 : y - 4, width: MARGIN + width - nameX + 2 },
    bold(16),
  );
  if (!isBeside) y = below + 1;
  y += 1;
  shape((paper) => rule(paper, y, HUE, 2.4));
  y = write(plan.lead, { x: MARGIN, y: y + 6, width }, bold(size + 2)) + 7;
  y = columns(pen, plan, { x: MARGIN, y, width }, size);
  if (plan.light) y = lightRows(pen, plan.light, { x: MARGIN, y, width }, size);
  return foot(pen, plan, { x: MARGIN, y: y + 6, width }, size);
}

function rule(paper: Pdf, y: number, color: string, lineWidth: number): void {
  paper
    .moveTo(MARGIN, y)
    .lineTo(paper.page.width - MARGIN, y)
    .lineWidth(lineWidth)
    .stroke(color);
}

function columns(
  { write, measure }: Pen,
  { blocks }: FeedingPlan,
  { x, y, width }: Place,
  size: number,
): number {
  const columnWidth = (width - GAP) / 2;
  const fill = (draw: typeof write, some: FeedingPlan['blocks'], place: Place): number => {
    let at = place.y;
    for (const { heading, lines } of some) {
      at = draw(heading, { ...place, y: at }, bold(size + 1, HUE), 'H2');
      for (const line of lines) at = draw(line, { ...place, y: at }, { size }) + 2;
      at += 6;
    }
    return at;
  };
  const place = { x, y, width: columnWidth };
  const heights = blocks.map((block) => fill(measure, [block], place) - y);
  const sum = (some: readonly number[]): number => some.reduce((total, one) => total + one, 0);
  const longest = (split: number): number =>
    Math.max(sum(heights.slice(0, split)), sum(heights.slice(split)));
  const split = blocks.map((_, i) => i).reduce((best, i) => (longest(i) < longest(best) ? i : best), 0);
  fill(write, blocks.slice(0, split), place);
  fill(write, blocks.slice(split), { ...place, x: x + columnWidth + GAP });
  return y + longest(split);
}

function lightRows(
  { pdf, write, shape }: Pen,
  { heading, signs, note }: NonNullable<FeedingPlan['light']>,
  { x, y, width }: Place,
  size: number,
): number {
  shape((paper) => rule(paper, y, RULE, 0.7));
  let at = write(heading, { x, y: y + 4, width }, bold(size + 1, HUE), 'H2') + 1;
  const looksX = x + BAR_WIDTH + 10;
  pdf.font('regular').fontSize(size);
  const looksWidth = Math.max(...signs.map(({ looks }) => pdf.widthOfString(looks))) + 4;
  const meansX = looksX + looksWidth + 8;
  for (const sign of signs) {
    const top = at;
    shape((paper) => drawRhythm(paper, sign, x, top + size * 0.4));
    const looks = write(sign.looks, { x: looksX, y: at, width: looksWidth }, { size });
    at = Math.max(looks, write(sign.means, { x: meansX, y: at, width: x + width - meansX }, bold(size))) + 1;
  }
  return write(note, { x, y: at, width }, { size: size - 0.5, color: SOFT });
}

function drawRhythm(paper: Pdf, { rhythmSec, color }: LightSign, x: number, top: number): void {
  const perSec = BAR_WIDTH / RHYTHM_SEC;
  paper
    .moveTo(x, top + 4.5)
    .lineTo(x + BAR_WIDTH, top + 4.5)
    .lineWidth(0.7)
    .stroke(RULE);
  for (const { fromSec, toSec } of glowBars(rhythmSec))
    paper.roundedRect(x + fromSec * perSec, top, (toSec - fromSec) * perSec, 9, 3).fill(color);
}

function foot(
  { write, measure, shape }: Pen,
  { stop, reach, caution, sources }: FeedingPlan,
  { x, y, width }: Place,
  size: number,
): number {
  const stopWidth = width * 0.63;
  const reachX = x + stopWidth + 12;
  const reachWidth = width - stopWidth - 12;
  const pad = 10;
  const boxes = (draw: typeof write): number => {
    const white = { size, color: '#ffffff' };
    const inside = { x: x + pad, width: stopWidth - 2 * pad };
    let at = draw(stop.heading, { ...inside, y: y + 6 }, bold(size + 1, '#ffc9a3'), 'H2');
    at = draw(stop.signs, { ...inside, y: at }, white);
    at = draw(stop.act, { ...inside, y: at + 1 }, white);
    at = draw(stop.emergency, { ...inside, y: at + 2 }, bold(size, '#ffffff'));
    const beside = { x: reachX + pad, width: reachWidth - 2 * pad };
    let other = draw(reach.heading, { ...beside, y: y + 6 }, bold(size + 1, HUE), 'H2') + 1;
    for (const { name, phone } of reach.people) {
      other = draw(name, { ...beside, y: other }, { size });
      other = draw(phone, { ...beside, y: other - 2 }, bold(size + 4)) + 1;
    }
    return Math.max(at, other);
  };
  // Measured first, since the background of a box is drawn before its words.
  const height = boxes(measure) - y + 8;
  shape((paper) => {
    paper.roundedRect(x, y, stopWidth, height, 8).fill(INK);
    paper.roundedRect(reachX, y, reachWidth, height, 8).lineWidth(1.6).stroke(HUE);
  });
  boxes(write);
  const below = write(caution, { x, y: y + height + 5, width }, bold(Math.max(10, size - 2)));
  return write(sources, { x, y: below + 2, width }, { size: 7.5, color: SOFT });
}

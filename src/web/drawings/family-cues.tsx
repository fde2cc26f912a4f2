/**
 * One drawing for each cue that only a family's own guidance turns on, 340 × 240, in the style of cues.tsx: ink for the
 * present state, one heavy colored stroke for what it is about.
 */
import { Bottle, BottleOutline } from './bottle.tsx';

/** The bottle hangs low, and stays there. */
export function BottleStaysLow() {
  return (
    <>
      <g transform="translate(70,52) rotate(36) scale(1.3)">
        <Bottle />
      </g>
      <path class="gesture" d="M70,226 H320 M70,196 V226 M320,196 V226" />
    </>
  );
}

/** A breath goes in and out beside a lowered bottle. */
export function TimeToBreathe() {
  return (
    <>
      <g transform="translate(60,150) rotate(14) scale(1.3)">
        <Bottle />
      </g>
      <path class="gesture" d="M24,56 C52,8 92,8 118,56 C144,104 184,104 210,56 C236,8 276,8 304,56" />
    </>
  );
}

/** A level bottle, and dotted above it the steeper position. */
export function LowerWillDo() {
  return (
    <>
      <g transform="translate(52,150) rotate(-30) scale(1.3)">
        <BottleOutline />
      </g>
      <g transform="translate(46,168) scale(1.3)">
        <Bottle />
      </g>
      <path class="gesture down" d="M300,66 V118 M280,98 L300,120 L320,98" />
    </>
  );
}

/** Milk lies under the teat's hole; a little higher would cover it. */
export function DryHole() {
  return (
    <>
      <g transform="translate(56,96) rotate(24) scale(1.3)">
        <Bottle />
      </g>
      <path class="ink" d="M112,178 H262 M128,196 H250" />
      <path class="gesture" d="M304,150 V40 M278,66 L304,38 L330,66" />
    </>
  );
}

/** Looking at the nipple: one drop. */
export function LookAtTeat() {
  return (
    <>
      <g transform="translate(116,104) scale(1.4)">
        <Bottle />
      </g>
      <circle class="gesture" cx="120" cy="104" r="62" />
      <path class="gesture" d="M74,150 L22,212" />
      <path class="ink solid" d="M92,130 C84,144 82,152 92,154 C102,152 100,144 92,130Z" />
    </>
  );
}

/** A tired face beside a long line. */
export function TiredFace() {
  return (
    <>
      <circle class="ink solid" cx="102" cy="112" r="82" />
      <path class="ink" d="M54,104 q16,12 32,0 M118,104 q16,12 32,0 M50,88 H88 M116,88 H154" />
      <path class="ink" d="M84,152 q18,-8 36,0" />
      <path class="ink" d="M102,30 C96,12 116,6 120,22" />
      <path class="gesture" d="M214,196 H326 M214,168 V224 M326,168 V224" />
    </>
  );
}

/** Asleep under a blanket; a hand at the feet. */
export function SoundAsleep() {
  return (
    <>
      <path class="ink" d="M6,222 H334" />
      <circle class="ink solid" cx="64" cy="166" r="48" />
      <path class="ink" d="M44,164 q10,9 20,0 M76,160 q9,8 18,0" />
      <path
        class="ink solid"
        d="M104,140 C150,112 216,116 262,150 C286,168 288,222 288,222 H96 C92,190 96,160 104,140Z"
      />
      <path class="gesture pat" d="M296,142 l30,-26 M306,172 l32,-8 M306,200 l30,8" />
    </>
  );
}

/** A hand goes to an open mouth. */
export function HandToMouth() {
  return (
    <g transform="translate(10,16) scale(0.93)">
      <circle class="ink solid" cx="134" cy="104" r="92" />
      <circle class="gesture-fill" cx="148" cy="146" r="21" />
      <path class="ink" d="M88,92 v16 M164,92 v16 M134,12 C128,-6 150,-10 154,6" />
      <path
        class="ink solid"
        d="M340,240 L268,214 C248,208 232,196 234,182 C236,168 254,166 268,176 L340,196"
      />
      <path class="gesture across" d="M318,120 C290,96 240,104 206,132 M232,102 L203,134 L246,146" />
    </g>
  );
}

/** The nipple is out of an open mouth, and goes further away. */
export function NippleOut() {
  return (
    <>
      <circle class="ink solid" cx="82" cy="136" r="74" />
      <path class="ink" d="M74,116 q9,8 18,0 M112,116 q9,8 18,0 M78,62 C72,46 92,40 95,54" />
      <circle class="ink solid" cx="128" cy="160" r="14" />
      <g transform="translate(194,160) scale(0.86)">
        <Bottle />
      </g>
      <path class="gesture across" d="M172,58 H312 M278,26 L312,58 L278,90" />
    </>
  );
}

/** Drop after drop falls from a level bottle. */
export function ManyDrops() {
  return (
    <>
      <g transform="translate(104,76) scale(1.42)">
        <Bottle />
      </g>
      <circle class="gesture-fill" cx="88" cy="112" r="13" />
      <circle class="gesture-fill" cx="64" cy="150" r="13" />
      <circle class="gesture-fill" cx="96" cy="172" r="13" />
      <circle class="gesture-fill" cx="62" cy="206" r="13" />
      <circle class="gesture-fill" cx="104" cy="222" r="13" />
    </>
  );
}

/** Drawings of the quiet states, 340 × 240: ink only, nothing to do. */
import { Bottle, BottleOutlineWhole } from './bottle.tsx';

/** The bottle stands on a table, still. */
export function StandingBottle() {
  return (
    <>
      <path class="ink" d="M70,216 H270" />
      <g transform="translate(170,52) rotate(90)">
        <Bottle />
      </g>
    </>
  );
}

/** The bottle is there, but not felt. */
export function UnfeltBottle() {
  return (
    <g transform="translate(36,112) rotate(8) scale(1.68)">
      <BottleOutlineWhole />
    </g>
  );
}

/** A plug drawn out of its socket. */
export function PulledPlug() {
  return (
    <g class="ink">
      <path d="M-12,120 H58 M58,120 C58,92 78,84 104,84 H122 V156 H104 C78,156 58,148 58,120Z M122,104 H148 M122,136 H148" />
      <path d="M352,120 H286 M206,84 H240 C266,84 286,94 286,120 C286,146 266,156 240,156 H206Z M206,104 H218 M206,136 H218" />
    </g>
  );
}

/** Two upright bars, as on any player. */
export function TwoBars() {
  return (
    <g class="ink">
      <rect x="112" y="60" width="36" height="120" rx="6" />
      <rect x="192" y="60" width="36" height="120" rx="6" />
    </g>
  );
}

/** The bottle stands steeply over the mouth; the dotted line is level. */
export function SteepBottle() {
  return (
    <>
      <path class="ink dots" d="M92,206 H330" />
      <path class="ink" d="M252,202 A158,158 0 0 0 184,82" />
      <g transform="translate(88,202) rotate(-58) scale(1.2)">
        <Bottle />
      </g>
    </>
  );
}

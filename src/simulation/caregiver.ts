/** The caregiver: how she holds the bottle, when she takes it away, and how she responds to a cue. */

import { Random, type Range } from '../base/random.ts';
import type { CaregiverParameters, Handling } from './parameters.ts';
import { BURP_TILT_DEG, type Pose, posesOf, RAISE, type Task, type TeatEventKind } from './poses.ts';

/** Cues that she may see or hear, with the names of the sleeve contract, section 6. */
export type SeenCue = 'tilt-down' | 'burp' | 'switch-side' | 'offer-stop';

/** What she notices, each step. */
export interface Noticed {
  atSec: number;
  milkMl: number;
  intakeMl: number;
  sucks: number;
  babyPausing: boolean;
  /** Flattest hold in which the hole has the wanted depth of milk over it, degrees. */
  coverTiltDeg: number;
}

/** After a second offer without interest of the baby she ends the feed. */
const NO_INTEREST_SEC = 12;
/** She responds again to a cue that stays on, after this time. */
const REPEAT_SEC = 20;
/** A blinking light counts as the same cue while it is dark. */
const REMEMBERED_SEC = 3;

export class Caregiver {
  wantedTiltDeg = 0;
  onTable = true;
  teatIn = false;
  over = false;
  task: Task | null = null;
  /** Set in the step in which the teat goes in or out. */
  teatEvent: TeatEventKind | null = null;
  /** Set when the other side is offered. */
  sideChanged = false;
  readonly #p: CaregiverParameters;
  readonly #random: Random;
  readonly #handlings: Handling[];
  #care: number;
  #poses: Pose[];
  #poseUntilSec = 0;
  #thenOver = false;
  #loweredSinceSec: number | null = null;
  #lowerUntilSec = 0;
  #turnSucks: number;
  #sucksAtTurn = 0;
  #intakeAtBurp = 0;
  #firstLatchSec: number | null = null;
  #switched = false;
  #lastSucks = 0;
  #lastSuckSec = 0;
  #offeredAgain = false;
  #seen: { cue: SeenCue; atSec: number } | null = null;
  #acted: { cue: SeenCue; atSec: number } | null = null;
  #reaction: { cue: SeenCue; atSec: number } | null = null;

  constructor(parameters: CaregiverParameters, seed: number) {
    this.#p = parameters;
    this.#random = new Random(seed, 'caregiver');
    this.#care = parameters.care;
    this.#turnSucks = this.#random.integer(parameters.sucksPerTurn);
    this.#handlings = [...parameters.handlings];
    this.#poses = [{ sec: parameters.standSec, tiltDeg: 0, onTable: true }, RAISE];
  }

  /** The cue of light or buzzer at this moment; null if none, also between two blinks. */
  perceive(cue: SeenCue | null, atSec: number): void {
    if (cue) this.#seen = { cue, atSec };
    else if (this.#seen && atSec - this.#seen.atSec > REMEMBERED_SEC) this.#seen = null;
    if (this.#seen?.cue !== this.#acted?.cue) this.#acted = null;
    if (!cue || !this.#p.follows || this.#reaction) return;
    if (this.#acted && atSec - this.#acted.atSec < REPEAT_SEC) return;
    this.#reaction = { cue, atSec: atSec + this.#random.between(this.#p.reactionSec) };
  }

  step(noticed: Noticed): void {
    this.teatEvent = null;
    this.sideChanged = false;
    if (noticed.sucks !== this.#lastSucks) {
      this.#lastSucks = noticed.sucks;
      this.#lastSuckSec = noticed.atSec;
    }
    if (this.#reaction && noticed.atSec >= this.#reaction.atSec) this.#react(noticed);
    if (this.teatIn) this.#feed(noticed);
    else this.#playPoses(noticed);
  }

  #react(noticed: Noticed): void {
    const { cue } = this.#reaction!;
    this.#reaction = null;
    if (!this.teatIn) return;
    this.#acted = { cue, atSec: noticed.atSec };
    if (cue === 'tilt-down') {
      this.#care = Math.min(1, this.#care + this.#p.carePerCue);
      this.#lower(noticed);
    } else if (cue === 'burp') this.#burp(noticed);
    else if (cue === 'switch-side') this.#changeArmsOnce(noticed);
    else if (this.#offeredAgain) this.#end(noticed);
    else this.#restAndOfferAgain(noticed);
  }

  #feed(noticed: Noticed): void {
    const p = this.#p;
    const holdDeg = p.steepTiltDeg + (noticed.coverTiltDeg - p.steepTiltDeg) * this.#care;
    if (this.#loweredSinceSec !== null) {
      this.wantedTiltDeg = noticed.coverTiltDeg - p.lowerByDeg;
      const cueStands = this.#seen?.cue === 'tilt-down' && p.follows;
      const longest = this.#loweredSinceSec + p.lowerMaxSec;
      if (noticed.atSec < this.#lowerUntilSec || (cueStands && noticed.atSec < longest)) return;
      this.#loweredSinceSec = null;
      this.#beginTurn(noticed);
    }
    this.wantedTiltDeg = holdDeg;
    const turnSucks = noticed.sucks - this.#sucksAtTurn;
    if (this.#isFinished(noticed, turnSucks)) this.#end(noticed);
    else if (noticed.babyPausing && this.#pauseWork(noticed)) return;
    else if (this.#care >= 0.75 && turnSucks >= this.#turnSucks) this.#lower(noticed);
  }

  /** The baby does not want any more, or she has noticed that the bottle is empty. */
  #isFinished(noticed: Noticed, turnSucks: number): boolean {
    const quietSec = noticed.atSec - this.#lastSuckSec;
    if (quietSec > (this.#offeredAgain ? NO_INTEREST_SEC : this.#p.giveUpSec)) return true;
    return noticed.milkMl <= 0 && (quietSec > 3 || turnSucks > 12);
  }

  /** Her own actions in a pause of the baby. @returns whether the teat was taken out */
  #pauseWork(noticed: Noticed): boolean {
    const p = this.#p;
    const next = this.#handlings.findIndex((handling) => noticed.intakeMl >= handling.afterMl);
    if (next >= 0) {
      this.#handle(this.#handlings.splice(next, 1)[0]!, noticed);
      return true;
    }
    const feedMin = (noticed.atSec - (this.#firstLatchSec ?? noticed.atSec)) / 60;
    if (p.switchAtMin !== null && !this.#switched && feedMin >= p.switchAtMin) {
      this.#changeArms(noticed);
      return true;
    }
    if (p.burpEveryMl !== null && noticed.intakeMl - this.#intakeAtBurp >= p.burpEveryMl) {
      this.#burp(noticed);
      return true;
    }
    return false;
  }

  #beginTurn(noticed: Noticed): void {
    this.#sucksAtTurn = noticed.sucks;
    this.#turnSucks = this.#random.integer(this.#p.sucksPerTurn);
  }

  #lower(noticed: Noticed): void {
    this.#loweredSinceSec = noticed.atSec;
    this.#lowerUntilSec = noticed.atSec + this.#random.between(this.#p.lowerSec);
  }

  #burp(noticed: Noticed): void {
    this.#intakeAtBurp = noticed.intakeMl;
    this.#takeOut('burp', [this.#held(this.#p.burpSec), RAISE]);
  }

  #changeArms(noticed: Noticed): void {
    this.#switched = true;
    this.#intakeAtBurp = noticed.intakeMl;
    this.sideChanged = true;
    this.#takeOut('switch', [this.#held(this.#p.switchSec), RAISE]);
  }

  /** If she has changed arms already, she does not change back. */
  #changeArmsOnce(noticed: Noticed): void {
    if (!this.#switched) this.#changeArms(noticed);
  }

  #restAndOfferAgain(noticed: Noticed): void {
    this.#offeredAgain = true;
    this.#intakeAtBurp = noticed.intakeMl;
    this.#takeOut('rest', [this.#held([12, 20]), RAISE]);
  }

  #end(noticed: Noticed): void {
    this.#intakeAtBurp = noticed.intakeMl;
    this.#takeOut(
      'end',
      [
        { sec: 1.5, tiltDeg: 20 },
        { sec: 10, tiltDeg: 0, onTable: true },
      ],
      true,
    );
  }

  #handle(handling: Handling, noticed: Noticed): void {
    this.#intakeAtBurp = noticed.intakeMl;
    this.#takeOut(handling.kind, posesOf(handling));
  }

  #held(range: Range): Pose {
    return { sec: this.#random.between(range), tiltDeg: BURP_TILT_DEG };
  }

  #takeOut(kind: TeatEventKind, poses: Pose[], thenOver = false): void {
    this.teatIn = false;
    this.teatEvent = kind;
    this.#loweredSinceSec = null;
    this.#poses = poses;
    this.#poseUntilSec = 0;
    this.#thenOver = thenOver;
  }

  #playPoses(noticed: Noticed): void {
    if (this.over) return;
    const pose = this.#poses[0]!;
    if (this.#poseUntilSec === 0) {
      this.#poseUntilSec = noticed.atSec + pose.sec;
      this.wantedTiltDeg = pose.tiltDeg;
      this.onTable = pose.onTable ?? false;
      this.task = pose.task ?? null;
    }
    if (noticed.atSec < this.#poseUntilSec) return;
    this.#poses.shift();
    this.#poseUntilSec = 0;
    this.task = null;
    if (this.#poses.length > 0) return;
    if (this.#thenOver) this.over = true;
    else this.#putIn(noticed);
  }

  #putIn(noticed: Noticed): void {
    this.teatIn = true;
    this.teatEvent = 'latch';
    this.#firstLatchSec ??= noticed.atSec;
    this.#lastSuckSec = noticed.atSec;
    this.#beginTurn(noticed);
  }
}

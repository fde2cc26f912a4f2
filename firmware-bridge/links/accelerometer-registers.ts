/** Registers of the emulated accelerometer, what it feels, and how it can fail. */
export const ACCELEROMETER_REGISTERS = {
  sampleRateDivider: 0x19,
  config: 0x1a,
  gyroConfig: 0x1b,
  accelConfig: 0x1c,
  interruptPin: 0x37,
  interruptEnable: 0x38,
  interruptStatus: 0x3a,
  accelXHigh: 0x3b,
  gyroXHigh: 0x43,
  powerManagement1: 0x6b,
  powerManagement2: 0x6c,
  whoAmI: 0x75,
} as const;

/** What the sleeve feels at a moment: specific force, 1/8192 g, and angular velocity, °/s, along and about its x, y, z. */
export interface FeltMotion {
  readonly accelerometer: readonly [number, number, number];
  /** Null: whoever tells does not know of turning, so the chip is one without a gyroscope. */
  readonly turningDps: readonly [number, number, number] | null;
}

export interface AccelerometerFault {
  /** Answers nothing. */
  silent?: boolean;
  /** Its axes no longer move. */
  stuck?: boolean;
  /** Its gyroscope's axes no longer move. */
  stuckGyroscope?: boolean;
  /** It is another chip: what it says in WHO_AM_I, and it has no gyroscope. */
  whoAmI?: number;
  /** Its interrupt line is torn off. */
  noInterrupt?: boolean;
  /** It was cut off in mid-byte and holds the data line low until the clock has been pulsed so often. */
  holdsBusFor?: number;
}

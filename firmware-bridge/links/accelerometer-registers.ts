/** Registers of the emulated accelerometer, its inputs and its possible faults. */
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

/** Motion of the sleeve at a moment: specific force, 1/8192 g, and angular velocity, °/s, along and about its x, y, z. */
export interface FeltMotion {
  readonly accelerometer: readonly [number, number, number];
  /** Null: the source has no angular velocity, so the chip acts as one without a gyroscope. */
  readonly turningDps: readonly [number, number, number] | null;
}

export interface AccelerometerFault {
  /** Does not answer. */
  silent?: boolean;
  /** Its readings no longer change. */
  stuck?: boolean;
  /** Its gyroscope's readings no longer change. */
  stuckGyroscope?: boolean;
  /** Another chip: this value in WHO_AM_I, and no gyroscope. */
  whoAmI?: number;
  /** Its interrupt line is broken. */
  noInterrupt?: boolean;
  /** It was interrupted within a byte and holds the data line low until the clock was pulsed this many times. */
  holdsBusFor?: number;
}

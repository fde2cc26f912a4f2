/** The sleeve's messages: from bytes to samples in device time, and back. Pure, and independent of the rest of the project. */
export { decodeMessage, encodeMessage, encodeRequest, frameLength } from './codec.ts';
export {
  createHostParser,
  type HostMessage,
  type PinCapabilities,
  parseHostTraffic,
  readHostMessage,
  sleeveAnswers,
} from './firmata.ts';
export {
  createFirmataFramer,
  FIRMATA,
  type FirmataFramer,
  frameFirmata,
  PIN_MODES,
} from './firmata-frames.ts';
export {
  CONTRACT_VERSION,
  type Heartbeat,
  type Identity,
  MESSAGES,
  type Motion,
  SAMPLE_FLAGS,
  type Sample,
  type SampleFlag,
  type Sound,
  type Stream,
} from './messages.ts';
export { createSampleReader, type SampleReader } from './sample-reader.ts';
export {
  createScanner,
  finishScan,
  type RejectionReason,
  type ScanCounts,
  type Scanner,
  scan,
  type WireSink,
} from './scanner.ts';
export {
  stepMotion,
  stepTimeline,
  TIMELINE_START,
  type TimedSample,
  type Timeline,
  type TimelineStep,
} from './timeline.ts';

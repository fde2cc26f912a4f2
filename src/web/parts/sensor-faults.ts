/** Sensor faults found in a feed, in words for whoever holds the bottle. */
import type { Language } from '../../pacing/cues/words.ts';
import type { SensorFault } from '../../sensing/moment.ts';

export const SENSOR_FAULTS: Record<Language, Record<SensorFault, string>> = {
  en: {
    'gyroscope-stuck': 'The sleeve’s turn sensor always says the same.',
    'gyroscope-saturated': 'The sleeve’s turn sensor is at its limit.',
    'gyroscope-disagrees': 'The sleeve’s turn sensor shows other turns than the bottle makes.',
    'accelerometer-place': 'The sleeve’s tilt sensor sits elsewhere than its calibration says.',
    'late-cells': 'The sleeve’s load cells answer late, which is allowed for.',
    'motion-alone': 'Turns reach us without the weights that belong to them.',
  },
  es: {
    'gyroscope-stuck': 'El sensor de giro de la funda dice siempre lo mismo.',
    'gyroscope-saturated': 'El sensor de giro de la funda está en su límite.',
    'gyroscope-disagrees': 'El sensor de giro de la funda indica otros giros que los del biberón.',
    'accelerometer-place': 'El sensor de inclinación de la funda no está donde dice su calibración.',
    'late-cells': 'Las celdas de carga de la funda responden tarde; se tiene en cuenta.',
    'motion-alone': 'Llegan giros sin los pesos que les corresponden.',
  },
};

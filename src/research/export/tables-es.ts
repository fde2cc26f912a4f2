/** The tables of an export in Spanish: what people read in the dictionary. Names, types and units are those of dictionary.ts. */
import type { TableDefinition } from './dictionary.ts';

interface Read {
  description: string;
  columns: Readonly<Record<string, string>>;
}

const SESSION = 'Código de la sesión dentro del estudio.';
const AT = 'Tiempo desde el primer agarre, por el reloj de la funda.';
const ITS_SD = 'Su desviación estándar.';

const cell = (number: number, where: string): string => `Cuentas de la celda de carga ${number} (${where}).`;
const acceleration = (axis: string): string => `Cuentas del acelerómetro, ${axis}; 8192 son 1 g.`;
const turning = (axis: string): string =>
  `Cuentas del giroscopio, ${axis}; 65.5 son 1 °/s; vacío donde no lo hay.`;

export const TABLES_ES: Readonly<Record<TableDefinition['name'], Read>> = {
  sessions: {
    description: 'Una fila por toma.',
    columns: {
      session: SESSION,
      participant: 'Código del participante.',
      arm: 'Grupo del protocolo; en clave hasta que se cierra el estudio.',
      day: 'Día de la toma, ISO 8601; desplazado en semanas enteras donde el protocolo lo dice.',
      portion_ml: 'Porción prevista; vacío donde no se introdujo ninguna.',
      duration_s: 'Desde el primer agarre hasta el último momento con la tetina en la boca.',
      intake_ml: 'Leche tomada, estimación refinada.',
      spilt_ml: 'Leche que salió del biberón y no entró en la boca.',
      calibration: 'SHA-256 de la calibración que convirtió las cuentas en leche.',
      recorded_by: 'Versión de Ebbline que registró la toma.',
      computed_by: 'Versión de Ebbline que calculó estos números a partir de las cuentas sin procesar.',
      told_known:
        'Si quedó escrito qué se dijo a quien alimentaba; en tomas antiguas, no; vacío hasta que se cierra el estudio.',
      set_aside: 'Por qué la sesión no cumple el protocolo; vacío donde lo cumple.',
    },
  },
  rows: {
    description: 'La estimación refinada, dos filas por segundo.',
    columns: {
      session: SESSION,
      at_s: AT,
      milk_ml: 'Leche en el biberón.',
      milk_sd_ml: ITS_SD,
      intake_ml: 'Leche tomada hasta ese momento.',
      flow_ml_per_min: 'Flujo de t - 5 s a t + 5 s.',
      flow_sd_ml_per_min: ITS_SD,
      teat_in_mouth: 'Si la tetina estaba en la boca.',
      quality: 'good (buena), degraded (menor) o invalid (no válida).',
    },
  },
  sucks: {
    description: 'Una fila por succión que vio la funda.',
    columns: { session: SESSION, at_s: AT },
  },
  cues: {
    description: 'Lo que decidieron las reglas, se mostrara o no.',
    columns: { session: SESSION, at_s: AT, kind: 'Clase de aviso.' },
  },
  told: {
    description:
      'Lo que se dijo a quien alimentaba, una fila por salida; véase told_known de la sesión. Delata el grupo, por lo que no tiene filas hasta que se cierra el estudio.',
    columns: {
      session: SESSION,
      at_s: AT,
      shown: 'Lo que se mostró.',
      output: 'page (página), light (luz) o sound (sonido).',
    },
  },
  indices: {
    description:
      'Índices de succión nutritiva: el valor con su intervalo, o la razón por la que falta. Los intervalos apuntan al 95 %; con qué frecuencia cubren el valor verdadero solo se ha visto en tomas simuladas.',
    columns: {
      session: SESSION,
      index: 'Uno de los índices que se listan más abajo.',
      value: 'En la unidad que está al lado; vacío donde falta.',
      low: 'Extremo inferior del intervalo.',
      high: 'Extremo superior del intervalo.',
      unit: 'Unidad de value, low y high.',
      missing: 'Por qué no hay valor.',
    },
  },
  raw: {
    description: 'Las cuentas como llegaron de la funda: bastan para calcular de nuevo todo lo demás.',
    columns: {
      session: SESSION,
      sample: 'Número de la muestra; vuelve a 0 después de 65535.',
      at_s: AT,
      load_1: cell(1, 'axial'),
      load_2: cell(2, 'delantera'),
      load_3: cell(3, 'trasera'),
      accel_x: acceleration('x'),
      accel_y: acceleration('y'),
      accel_z: acceleration('z'),
      gyro_x: turning('x'),
      gyro_y: turning('y'),
      gyro_z: turning('z'),
      flags:
        'Bits, desde el más bajo: fallo de la celda axial, de la delantera, de la trasera, fallo del acelerómetro, muestras perdidas antes de esta, botón pulsado, alimentación baja, primera después de un reinicio.',
    },
  },
};

import { INDICES_ES } from '../indices/definitions-es.ts';
import type { ExportWords } from './export-words.ts';
import { TABLES_ES } from './tables-es.ts';

const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

export const EXPORT_WORDS_ES: ExportWords = {
  methods: {
    title: 'Métodos',
    noSession: ({ setAside }) =>
      `Ninguna sesión cumple aún el protocolo (${setAside} ${setAside === 1 ? 'apartada' : 'apartadas'}), de modo que nada se puede decir de cómo se midieron las tomas.`,
    randomised: (arms, { blockSizes, strata }) =>
      `Los participantes se asignaron al azar a ${counted(arms.length, 'grupo')} (${arms.join(', ')}) por ` +
      `bloques permutados de ${blockSizes.join(' o ')} dentro de ${counted(strata.length, 'estrato')}; ` +
      'un programa generó el orden al inscribirse cada participante, y antes no figuraba en ninguna lista.',
    withheld:
      'En un grupo del protocolo debían retenerse los avisos; lo que se dijo de hecho a quien alimentaba está en la tabla told.',
    blinded:
      'El estudio no se ha cerrado aún: los grupos llevan claves, y se omite lo que se dijo a quien alimentaba, porque delata el grupo.',
    weighed: ({ sessions, participants, samplesPerSec }) =>
      `Se pesó el biberón durante ${counted(sessions, 'toma')} de ${counted(participants, 'participante')} con una funda que lleva tres celdas de carga y un sensor inercial ` +
      `(${samplesPerSec.toFixed(1)} muestras por segundo).`,
    setAside: (count) =>
      count === 1
        ? '1 sesión no cumplió el protocolo y se apartó.'
        : `${count} sesiones no cumplieron el protocolo y se apartaron.`,
    estimated: ({ softwareVersion, recordedBy, calibrations, protocol, flowSdMlPerMin, milkSdMl }) =>
      `La leche en el biberón, la leche tomada y el flujo se estimaron a partir de las cuentas sin procesar con Ebbline ${softwareVersion} ` +
      `(registradas por ${recordedBy.join(', ') || 'una versión desconocida'}), un suavizador de intervalo fijo sobre un banco de filtros de Kalman, con ${counted(calibrations, 'calibración', 'calibraciones')} ` +
      `de no más de ${protocol.calibrationMostDays} días. El flujo es la media de 10 s. Su desviación estándar, según el propio estimador, fue de ${flowSdMlPerMin.toFixed(1)} mL/min en la fila mediana de la sesión mediana; ` +
      `la de la leche, de ${milkSdMl.toFixed(1)} mL. Los índices de succión nutritiva se definen en el diccionario de datos; donde la funda no pudo distinguir un índice en una sesión, ese índice falta.`,
    prototype: 'La funda es un prototipo de investigación, no un dispositivo médico.',
  },
  dictionary: {
    title: 'Diccionario de datos',
    files:
      'Cada tabla está en CSV y en Parquet, con las mismas columnas: string es texto UTF-8, number un número de doble precisión de 64 bits, integer un entero de 32 bits, boolean sí o no (true o false); lo que está vacío en CSV es null en Parquet. Las cuentas sin procesar son un archivo Parquet por sesión en la carpeta raw.',
    columns: ['columna', 'tipo', 'unidad', 'significado'],
    indices: 'Índices de succión nutritiva',
    sees: 'Las celdas de carga ven la leche y el ritmo de la succión. No ven presiones, degluciones ni respiraciones, por lo que aquí no hay ningún índice de ellas.',
    ofIndex: ['índice', 'nombre', 'unidad', 'definición', 'fórmula', 'fuente'],
  },
  table: ({ name }) => TABLES_ES[name].description,
  column: ({ name }, column) => TABLES_ES[name].columns[column.name]!,
  index: (key) => INDICES_ES[key],
};
